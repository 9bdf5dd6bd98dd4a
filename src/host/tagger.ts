// What the viewer asks of the text: tags from keys and buttons, fields of the detail strip, placed points. Each becomes
// one change, in the order in which they were asked for.

import { success, failure, type Result } from "../bout/result";
import { mirrored, tag, type Tagged, type Tagging } from "../bout/tagging";
import type { Milliseconds } from "../bout/time";
import type { ToHost } from "../messages/contract";
import type { Item } from "../messages/scene";
import { circumstancesAt } from "./circumstances";
import { fieldChange } from "./field";
import { placingChange, type FitPoints, type PlatformCorners } from "./placing";
import type { View } from "./view";
import type { Plan, Writer } from "./writer";

export class Tagger {
  readonly #writer: Writer;

  constructor(writer: Writer) {
    this.#writer = writer;
  }

  /** Does what a tagging key does at a frame; `at` may still be on its way from the page, and keeps its turn. */
  async tag(view: View, tagging: Tagging, at: Promise<number | undefined> | number): Promise<void> {
    let write: Tagged["write"];
    const plan = Promise.resolve(at).then((frame): Plan => {
      if (frame === undefined)
        return () => failure("The viewer has not shown a frame yet; nothing was tagged. Try again.");
      return (study) => {
        const meant = study.bout.about.view === "opposite" ? mirrored(tagging) : tagging;
        const time = whole(frame);
        const tagged = tag(study.bout, meant, time, circumstancesAt(study, time));
        if (!tagged.ok) return tagged;
        write = tagged.value.write;
        return success(tagged.value.change);
      };
    });
    const written = await this.#writer.write(view.document, plan);
    if (!written.ok) {
      this.#say(view, written.problem);
      return;
    }
    const index = write?.index ?? written.value.index;
    if (write === undefined || index === undefined) return;
    view.showScene();
    view.send({ type: "write", index, field: write.field });
  }

  /** Writes a field of the detail strip, unless its entry is no longer the one the page shows. */
  async setField(view: View, message: Extract<ToHost, { type: "field" }>): Promise<void> {
    const { version, index, field, value } = message;
    const shown = view.itemSent(version, index);
    const written = await this.#writer.write(view.document, ({ bout }, { scan }) => {
      const record = bout.log.find((one) => one.index === index);
      if (record === undefined || shown === undefined || !isSame(shown, scan.entries[index], field))
        return failure(
          "The bout file was changed meanwhile and this entry is another one now; nothing was changed.",
        );
      return fieldChange(index, record.entry.kind, field, value);
    });
    if (!written.ok) this.#say(view, written.problem);
  }

  async place(view: View, at: number, placed: FitPoints | PlatformCorners): Promise<void> {
    const written = await this.#writer.write(
      view.document,
      ({ bout }): Result<ReturnType<typeof placingChange>, string> =>
        success(placingChange(bout, whole(at), placed)),
    );
    if (!written.ok) this.#say(view, written.problem);
  }

  #say(view: View, message: string): void {
    view.send({ type: "say", severity: "error", message });
  }
}

function whole(at: number): Milliseconds {
  return Math.max(0, Math.round(at)) as Milliseconds;
}

/** Whether the entry in the file is the one the page showed, the field being written aside. */
function isSame(shown: Item, raw: unknown, field: string): boolean {
  const [changing] = field.split(".");
  const now = raw as Readonly<Record<string, unknown>>;
  return Object.entries(shown.fields).every(
    ([name, value]) => name === changing || JSON.stringify(now[name]) === JSON.stringify(value),
  );
}
