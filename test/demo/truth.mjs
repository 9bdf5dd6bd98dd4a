// Where the platforms of the demo really stand in every frame, and where the camera sees their corners: what the figures of
// drift and the fit are tested against.
//
// An attack from the left pushes the whole frame some 3 cm towards the right and turns it a little; one from the right hardly
// moves it. A re-centre brings it back to within a centimetre.
import { floorToImage, floorToImageMatrix } from "./camera.mjs";
import { normal, seeded } from "./random.mjs";
import { events } from "./timeline.mjs";
import { Track } from "./track.mjs";

/** Metres: the platforms' length along the bar and their width. */
export const platformLength = 0.95;
export const platformWidth = 0.86;
/** Metres between the two inner near corners when the distance has been set. */
export const gapAtSetting = 0.6;
/**
 * Standard deviation of the noise added to every clicked point, in fractions of the frame's width and height alike: half a
 * pixel across and a quarter down at 960 by 540, a careful click.
 */
export const clickNoise = 0.0005;

/** Tape marks on the floor that the fit uses, in metres. */
export const tapeMarks = [
  [-2, -1],
  [0, -1],
  [2, -1],
  [-2, 1],
  [2, 1],
];

/** The true image of the floor, 3 by 3 by rows, to fractions of the frame. */
export const homography = floorToImageMatrix();

const moved = ["along", "across", "turn", "gap", "leftTwist", "rightTwist"];

function frameTrack() {
  const deviate = normal(seeded(20261017));
  const now = { along: 0, across: 0, turn: 0, gap: gapAtSetting, leftTwist: 0, rightTwist: 0 };
  const track = new Track(now);
  for (const event of events) {
    if (event.kind === "phrase") {
      push(now, openerOf(event), event.play === false ? 0.4 : 1, deviate);
      const thrust = event.timed.find((action) => /attack|line/.test(action.name)) ?? event.timed[0];
      track.to(thrust.from + 2, event.touch + 4, now);
    } else if (event.kind === "stop" && event.for.includes("re-centre")) {
      Object.assign(now, {
        along: 0.005 * deviate(),
        across: 0.004 * deviate(),
        turn: 0.2 * deviate(),
        leftTwist: 0,
        rightTwist: 0,
      });
      track.to(event.at + 20, event.until - 16, now);
    } else if (event.kind === "stop" && event.resetsDistance) {
      now.gap = gapAtSetting;
      track.to(event.at + 24, event.at + 40, now);
    }
  }
  return track;
}

/** The side of the first action that can score; every phrase of the scenario has one. */
function openerOf(phrase) {
  const prepares = /(beat|feint|preparation|taking the blade|lean|parry)/;
  return phrase.actions.find((text) => !prepares.test(text)).split(" ")[0];
}

function push(now, opener, share, deviate) {
  const along = { left: 0.031, right: -0.004, both: 0.01 }[opener];
  const turn = { left: 0.3, right: -0.1, both: 0 }[opener];
  now.along += share * (along + 0.007 * deviate());
  now.across += share * 0.003 * deviate();
  now.turn += share * (turn + 0.15 * deviate());
  now.gap -= share * (opener === "left" ? 0.0015 : 0.0005);
  now.leftTwist += share * 0.08 * deviate();
  now.rightTwist += share * 0.08 * deviate();
}

const track = frameTrack();
const radians = (degrees) => (degrees * Math.PI) / 180;

/** Both platforms' true poses: centre x and y in metres, angle in degrees, at a frame (fractions of a frame allowed). */
export function platformsAt(frame) {
  const { along, across, turn, gap, leftTwist, rightTwist } = track.at(frame);
  const half = (gap + platformLength) / 2;
  const cosine = Math.cos(radians(turn));
  const sine = Math.sin(radians(turn));
  return {
    left: { x: along - half * cosine, y: across - half * sine, angle: turn + leftTwist },
    right: { x: along + half * cosine, y: across + half * sine, angle: turn + rightTwist },
  };
}

/** The corners of a platform's near long edge on the floor, inner one first. */
export function nearEdge(side, pose) {
  const inner = side === "left" ? 1 : -1;
  return [inner, -inner].map((end) => onPlatform(pose, (end * platformLength) / 2, -platformWidth / 2));
}

/** A point given along and across a platform, on the floor. */
export function onPlatform(pose, along, across) {
  const cosine = Math.cos(radians(pose.angle));
  const sine = Math.sin(radians(pose.angle));
  return [pose.x + along * cosine - across * sine, pose.y + along * sine + across * cosine];
}

/** True image points of both near edges at a frame, as fractions of the picture. */
export function edgesInImage(frame) {
  const poses = platformsAt(frame);
  return {
    left: nearEdge("left", poses.left).map(floorToImage),
    right: nearEdge("right", poses.right).map(floorToImage),
  };
}

/** The true movement of the frame as a whole at a frame: metres and degrees. */
export function frameAt(frame) {
  const values = track.at(frame);
  return Object.fromEntries(moved.map((name) => [name, values[name]]));
}
