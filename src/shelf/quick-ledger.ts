// The ledger of a text with nothing wrong in it, by an edition of Boutline's own: what most files are. It asks for little, so
// that a thread that reads files is soon there: what is imported here must not bring in the libraries of the thorough way.

import { quickBout } from "../bout/quick-bout";
import { editionNamed } from "../rules/editions";
import { ledger, type Ledger } from "../rules/ledger";

/** Undefined for a text that must be looked at thoroughly. `colons`: how many there are in it. */
export function quickLedger(text: string, colons: number): Ledger | undefined {
  const bout = quickBout(text, colons);
  const edition = bout && editionNamed(bout.about.rules);
  return edition && ledger(bout, edition);
}
