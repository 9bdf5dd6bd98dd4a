// The panel with the study sheet: shows the page the host makes of the text, keeps the reader's place when it is made
// again, and asks the host to play the phrases behind a figure.

import { datasetOf, HostPage } from "./host-page";
import { openSheetLink } from "./sheet-link";

const content = document.getElementById("sheet");
const status = document.getElementById("said");
if (content === null || status === null) throw new Error("the panel's document has no place for the sheet");

const link = openSheetLink();
let kept = link.kept();
const page = new HostPage(content, {
  pressed: (figure, version) => askFor(figure, version),
  sections: (open) => {
    if (kept !== undefined) link.keep((kept = { ...kept, open }));
    link.post({ type: "sections", open });
  },
});

link.listen((message) => {
  switch (message.type) {
    case "page":
      link.keep((kept = { ...kept, files: message.files }));
      page.show(message.version, message.html);
      break;
    case "again":
      if (!page.ask(message.key))
        status.textContent = "After the edit this figure is no longer on the sheet.";
      break;
    case "say":
      status.textContent = message.message;
      break;
  }
});
link.post({ type: "ready", ...(kept?.open === undefined ? {} : { open: kept.open }) });

function askFor(figure: Element, version: number): void {
  const asked = datasetOf(figure);
  const { key = "", entries = "", title = figure.querySelector("title")?.textContent ?? "", of } = asked;
  if (asked["meaning"] !== undefined) link.post({ type: "meaning", section: asked["meaning"] });
  else if (asked["line"] !== undefined)
    link.post({ type: "line", line: Number(asked["line"]), column: Number(asked["column"] ?? 1) });
  else if (asked["save"] !== undefined) link.post({ type: "save" });
  else
    link.post({
      ...{ type: "evidence", key, title, entries: entries.split(",").map(Number), version },
      ...(of === "first" || of === "second" ? { of } : {}),
    });
}
