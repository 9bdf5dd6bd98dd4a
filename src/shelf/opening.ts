// How bout files are opened, wherever they are read.

import { constants } from "node:fs";

/** Bytes. Far more than any bout file: an hour tagged entry by entry is below 1 MB. A larger one that is broken would take
 * minutes until that is found. */
export const largest = 16 * 1024 * 1024;

/** Without waiting for a writer, as opening a named pipe would for ever; Windows knows no such flag. */
export const withoutWaiting = constants.O_RDONLY | ((constants.O_NONBLOCK as number | undefined) ?? 0);
