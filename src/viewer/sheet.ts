// The panel with the study sheet: shows the page the host makes of the text, keeps the reader's place when it is made
// again, and asks the host to play the phrases behind a figure.

import { openSheetLink } from "./sheet-link";
import { SheetPage } from "./sheet-page";

const content = document.getElementById("sheet");
const status = document.getElementById("said");
if (content === null || status === null) throw new Error("the panel's document has no place for the sheet");

const link = openSheetLink();
let kept = link.kept();
const page = new SheetPage(content, {
  evidence: (evidence) => link.post({ type: "evidence", ...evidence }),
  meaning: (section) => link.post({ type: "meaning", section }),
  line: (line, column) => link.post({ type: "line", line, column }),
  save: () => link.post({ type: "save" }),
  sections: (open) => {
    if (kept !== undefined) link.keep((kept = { ...kept, open }));
    link.post({ type: "sections", open });
  },
});

link.listen((message) => {
  switch (message.type) {
    case "page":
      if (kept?.file !== message.file) link.keep((kept = { ...kept, file: message.file }));
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
