// The time to answer, as live. It goes on by the clock, not by ticks, which a hidden page gets fewer of.

export interface Countdown {
  readonly stop: () => void;
}

export function countdown(seconds: number, tick: (left: number) => void): Countdown {
  const end = performance.now() + seconds * 1000;
  const tell = () => {
    const left = Math.max(0, (end - performance.now()) / 1000);
    if (left === 0) window.clearInterval(timer);
    tick(left);
  };
  const timer = window.setInterval(tell, 250);
  return { stop: () => window.clearInterval(timer) };
}
