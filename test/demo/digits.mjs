// Lettering of the scoreboard: seven-segment digits drawn as shapes, so that they need no font, and small captions.

const segments = {
  0: "abcdef",
  1: "bc",
  2: "abged",
  3: "abgcd",
  4: "fgbc",
  5: "afgcd",
  6: "afgedc",
  7: "abc",
  8: "abcdefg",
  9: "abcdfg",
};

function bar(context, x, y, w, h) {
  context.beginPath();
  context.roundRect(x, y, w, h, Math.min(w, h) / 2);
  context.fill();
}

/** Digits, blanks and a colon from the left edge x and the top y; a digit is w wide and h high. */
export function sevenSegments(context, text, x, y, w, h, colour) {
  const t = Math.max(2, w * 0.18);
  const places = {
    a: [t * 0.6, 0, w - t * 1.2, t],
    b: [w - t, t * 0.5, t, h / 2 - t * 0.6],
    c: [w - t, h / 2 + t * 0.1, t, h / 2 - t * 0.6],
    d: [t * 0.6, h - t, w - t * 1.2, t],
    e: [0, h / 2 + t * 0.1, t, h / 2 - t * 0.6],
    f: [0, t * 0.5, t, h / 2 - t * 0.6],
    g: [t * 0.6, (h - t) / 2, w - t * 1.2, t],
  };
  let at = x;
  for (const character of text) {
    if (character === ":") {
      context.fillStyle = colour;
      bar(context, at, y + h * 0.25, t, t);
      bar(context, at, y + h * 0.65, t, t);
      at += t + w * 0.3;
      continue;
    }
    const lit = segments[character] ?? "";
    for (const [name, [sx, sy, sw, sh]] of Object.entries(places)) {
      context.fillStyle = lit.includes(name) ? colour : "rgba(255,200,120,0.06)";
      bar(context, at + sx, y + sy, sw, sh);
    }
    at += w * 1.3;
  }
}

export function drawText(context, text, x, y, size, colour) {
  context.font = `600 ${size}px "DejaVu Sans", "Liberation Sans", sans-serif`;
  context.textAlign = "center";
  context.textBaseline = "alphabetic";
  context.fillStyle = colour;
  context.fillText(text, x, y);
}
