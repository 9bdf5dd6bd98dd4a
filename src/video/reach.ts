// How a recording is named to ffmpeg's programs: in a way that can't reach past it, neither to the network nor to another
// file.

/** Protocols and container formats a recording may use. Without the second list a playlist named `.mp4` is followed. */
export const reach = [
  "-protocol_whitelist",
  "file,pipe",
  "-format_whitelist",
  "mov,mp4,m4a,3gp,3g2,mj2,matroska,webm,mpegts,mpeg,mpegvideo,avi,asf,mxf,flv,ogg",
] as const;

/** With the prefix a name that begins with "-" or holds ":" is still a name. `file` is a full path. */
export function named(file: string): string {
  return `file:${file}`;
}
