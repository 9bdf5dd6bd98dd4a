// So many at a time; the others wait in the order they came.

export class Turns {
  readonly #most: () => number;
  readonly #waiting: (() => void)[] = [];
  #taken = 0;

  constructor(most: () => number) {
    this.#most = most;
  }

  /** Does the work when it is its turn; at once, for the work to notice, where the signal is aborted. */
  async take<T>(signal: AbortSignal, work: () => Promise<T>): Promise<T> {
    await this.#turn(signal);
    this.#taken += 1;
    try {
      return await work();
    } finally {
      this.#taken -= 1;
      this.#waiting.shift()?.();
    }
  }

  async #turn(signal: AbortSignal): Promise<void> {
    while (this.#taken >= this.#most() && !signal.aborted)
      await new Promise<void>((resolve) => {
        const come = () => {
          signal.removeEventListener("abort", leave);
          resolve();
        };
        const leave = () => {
          const place = this.#waiting.indexOf(come);
          if (place >= 0) this.#waiting.splice(place, 1);
          resolve();
        };
        this.#waiting.push(come);
        signal.addEventListener("abort", leave, { once: true });
      });
  }
}
