// Tells where the playhead is: at once when it stands still, now and then while it moves.

/** Milliseconds between two reports. */
const every = 100;

export class PlayheadReport {
  readonly #tell: (at: number, playing: boolean) => void;
  #told = "";
  #toldAt = -every;
  #later: ReturnType<typeof setTimeout> | undefined;

  constructor(tell: (at: number, playing: boolean) => void) {
    this.#tell = tell;
  }

  /** The playhead is here now. */
  at(at: number, playing: boolean): void {
    const news = `${at} ${playing}`;
    clearTimeout(this.#later);
    if (news === this.#told) return;
    const now = performance.now();
    const wait = this.#toldAt + every - now;
    if (wait > 0) {
      this.#later = setTimeout(() => {
        this.at(at, playing);
      }, wait);
      return;
    }
    this.#told = news;
    this.#toldAt = now;
    this.#tell(at, playing);
  }
}
