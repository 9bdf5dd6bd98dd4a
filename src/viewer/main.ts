// The page inside the viewer starts here: it builds everything in #viewer and asks the host for the bout.

import { openLink } from "./link";
import { Viewer } from "./viewer";

const place = document.getElementById("viewer");
if (place === null) throw new Error("The page has no #viewer.");
new Viewer(place, openLink());
