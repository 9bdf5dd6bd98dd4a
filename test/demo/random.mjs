// Repeatable random numbers, so that the demo is drawn the same every time.

/** A generator of numbers in [0, 1) (mulberry32, public domain, Tommy Ettinger 2017). */
export function seeded(seed) {
  let state = seed >>> 0;
  return () => {
    state = (state + 0x6d2b79f5) >>> 0;
    let mixed = Math.imul(state ^ (state >>> 15), state | 1);
    mixed ^= mixed + Math.imul(mixed ^ (mixed >>> 7), mixed | 61);
    return ((mixed ^ (mixed >>> 14)) >>> 0) / 4294967296;
  };
}

/** A generator of normal deviates of standard deviation 1 (Box and Muller 1958). */
export function normal(uniform) {
  return () => Math.sqrt(-2 * Math.log(1 - uniform())) * Math.cos(2 * Math.PI * uniform());
}
