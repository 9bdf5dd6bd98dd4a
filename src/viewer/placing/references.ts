// Known points of the floor that are easy to find in a picture: four corners of a rectangle of measured size, its middle at
// the centre of the piste.

export const referenceNames = ["tape strips", "piste edges", "mat joints", "platform corners"] as const;
export type ReferenceName = (typeof referenceNames)[number];

/** Metres along and across the piste, from corner to corner. */
export interface Reference {
  readonly name: ReferenceName;
  readonly along: number;
  readonly across: number;
}

/** A spot on the floor that is easy to find: where it is, and in words. */
export interface Preset {
  readonly floor: readonly [number, number];
  readonly words: string;
}

interface Told {
  readonly along: number;
  readonly across: number;
  /** What stands at a corner, by the side of the picture and the depth it is at. */
  readonly corner: (side: "left" | "right", depth: "near" | "far") => string;
  readonly hint: string;
}

/** Sizes are common practice and no source's; all can be changed in the panel. */
const told: Readonly<Record<ReferenceName, Told>> = {
  "tape strips": {
    along: 4,
    across: 2,
    corner: (side, depth) => `${side} tape, ${depth} end`,
    hint: "Strips of tape two metres left and right of the centre, from one metre this side of the piste's middle line to one metre beyond it.",
  },
  "piste edges": {
    along: 4,
    across: 1.5,
    corner: (side, depth) => `${side} line across the piste, at its ${depth} edge`,
    hint: "Where two lines across meet the edges of the piste or podium: measure the way between the lines, and the width.",
  },
  "mat joints": {
    along: 3,
    across: 1,
    corner: (side, depth) => `${side} joint of the mats, ${depth} one`,
    hint: "Joints of mats laid edge to edge: count the mats between them and multiply by the size of one.",
  },
  "platform corners": {
    along: 2.6,
    across: 0.9,
    corner: (side, depth) => `${side} platform, outer ${depth} corner`,
    hint: "The four outermost corners of both platforms, measured: 0 is then where they stand now, and it holds from here on.",
  },
};

export function referenceNamed(name: ReferenceName): Reference {
  const { along, across } = told[name];
  return { name, along, across };
}

export function hintOf({ name }: Reference): string {
  return told[name].hint;
}

/** The four corners as the camera sees them, near ones first. From the opposite side left is the right end. */
export function presetsOf({ name, along, across }: Reference, mirrored: boolean): readonly Preset[] {
  const turned = mirrored ? -1 : 1;
  return (["near", "far"] as const).flatMap((depth) =>
    (["left", "right"] as const).map((side): Preset => {
      const x = ((side === "left" ? -1 : 1) * along) / 2;
      const y = ((depth === "near" ? -1 : 1) * across) / 2;
      // Adding 0 keeps the text free of a negative nought.
      return { floor: [turned * x + 0, turned * y + 0], words: told[name].corner(side, depth) };
    }),
  );
}
