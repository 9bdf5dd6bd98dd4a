// The sound of the demo recording: the apparatus's buzzer at every lit lamp, blades that meet, and a quiet hall.
import { seeded } from "./random.mjs";
import { frames, phrases } from "./timeline.mjs";
import { framesPerSecond } from "./scenario.mjs";

export const sampleRate = 44100;
const perFrame = sampleRate / framesPerSecond;

/** Pitch in hertz; the two sides can be told apart by ear. */
const pitch = { left: 620, right: 830 };
const buzzSeconds = 0.55;

function room(samples) {
  const uniform = seeded(7);
  let slow = 0;
  let slower = 0;
  for (let index = 0; index < samples.length; index++) {
    slow += 0.03 * (2 * uniform() - 1 - slow);
    slower += 0.0006 * (slow - slower);
    const swell = 1 + 0.35 * Math.sin((2 * Math.PI * index) / (sampleRate * 9.3));
    samples[index] += 0.05 * swell * (slow - slower);
  }
}

function buzz(samples, frame, hertz) {
  const from = Math.round(frame * perFrame);
  const length = Math.round(buzzSeconds * sampleRate);
  for (let index = 0; index < length && from + index < samples.length; index++) {
    const seconds = index / sampleRate;
    const fade = Math.min(1, seconds / 0.008, (buzzSeconds - seconds) / 0.03);
    const angle = 2 * Math.PI * hertz * seconds;
    samples[from + index] +=
      0.13 * fade * (Math.sin(angle) + 0.33 * Math.sin(3 * angle) + 0.12 * Math.sin(5 * angle));
  }
}

function clash(samples, frame, seed) {
  const uniform = seeded(seed);
  const from = Math.round(frame * perFrame);
  const tone = 2600 + 900 * uniform();
  for (let index = 0; index < 0.16 * sampleRate && from + index < samples.length; index++) {
    const seconds = index / sampleRate;
    const ring = Math.sin(2 * Math.PI * tone * seconds) + 0.6 * Math.sin(2 * Math.PI * tone * 1.53 * seconds);
    const noise = (2 * uniform() - 1) * Math.exp(-seconds / 0.006);
    samples[from + index] += 0.11 * Math.exp(-seconds / 0.035) * ring + 0.16 * noise;
  }
}

/** The whole sound track as a WAV file, 16 bits, one channel. */
export function soundTrack() {
  const samples = new Float32Array(Math.round(frames * perFrame));
  room(samples);
  for (const phrase of phrases) {
    for (const side of Object.keys(phrase.lamps)) buzz(samples, phrase.touch, pitch[side]);
    for (const action of phrase.timed) {
      if (/parry|beat|taking/.test(action.name)) {
        clash(samples, action.from + 0.6 * (action.to - action.from), phrase.start + action.from);
      }
    }
  }
  const file = Buffer.alloc(44 + 2 * samples.length);
  file.write("RIFF", 0, "latin1");
  file.writeUInt32LE(36 + 2 * samples.length, 4);
  file.write("WAVEfmt ", 8, "latin1");
  file.writeUInt32LE(16, 16);
  file.writeUInt16LE(1, 20);
  file.writeUInt16LE(1, 22);
  file.writeUInt32LE(sampleRate, 24);
  file.writeUInt32LE(2 * sampleRate, 28);
  file.writeUInt16LE(2, 32);
  file.writeUInt16LE(16, 34);
  file.write("data", 36, "latin1");
  file.writeUInt32LE(2 * samples.length, 40);
  samples.forEach((value, index) => {
    file.writeInt16LE(Math.round(32767 * Math.max(-1, Math.min(1, value))), 44 + 2 * index);
  });
  return file;
}
