// A number in every frame that a program can read back from the decoded picture.
//
// Along the bottom edge, from the left corner: 20 blocks, each 1/60 of the frame's width wide and 1/45 of its height high
// (16 by 12 pixels at 960 by 540, whole macroblock columns, so that compression hardly touches them). In order: white,
// black, the 16 bits of the number with the highest first (white is 1), the parity block (white if the number of ones is
// odd), black. A block is read as the mean of its inner half, so scaled copies can be read too.

const bits = 16;
const blocks = bits + 4;
const columns = 60;
const rows = 45;

function ones(number) {
  let count = 0;
  for (let rest = number; rest > 0; rest >>>= 1) count += rest & 1;
  return count;
}

/** Draws the number into the bottom left corner of a canvas context. */
export function drawFrameNumber(context, number, width, height) {
  const values = [1, 0];
  for (let bit = bits - 1; bit >= 0; bit--) values.push((number >>> bit) & 1);
  values.push(ones(number) & 1, 0);
  const blockWidth = width / columns;
  const blockHeight = height / rows;
  values.forEach((value, index) => {
    context.fillStyle = value === 1 ? "#f4f4f4" : "#0c0c0c";
    context.fillRect(index * blockWidth, height - blockHeight, blockWidth, blockHeight);
  });
}

/** The number in a frame of RGBA pixels, or null where the blocks can't be read or the parity is wrong. */
export function readFrameNumber(pixels, width, height) {
  const light = [];
  for (let index = 0; index < blocks; index++) {
    const fromX = Math.round(((index + 0.25) / columns) * width);
    const toX = Math.round(((index + 0.75) / columns) * width);
    const fromY = Math.round((1 - 0.75 / rows) * height);
    const toY = Math.round((1 - 0.25 / rows) * height);
    let sum = 0;
    let count = 0;
    for (let y = fromY; y < toY; y++) {
      for (let x = fromX; x < toX; x++) {
        const at = 4 * (y * width + x);
        sum += 0.299 * pixels[at] + 0.587 * pixels[at + 1] + 0.114 * pixels[at + 2];
        count++;
      }
    }
    if (count === 0) return null;
    light.push(sum / count);
  }
  const threshold = (light[0] + light[1]) / 2;
  if (light[0] - light[1] < 100) return null;
  const values = light.map((value) => (value > threshold ? 1 : 0));
  if (values[blocks - 1] !== 0) return null;
  const number = values.slice(2, 2 + bits).reduce((sum, value) => sum * 2 + value, 0);
  return (ones(number) & 1) === values[2 + bits] ? number : null;
}
