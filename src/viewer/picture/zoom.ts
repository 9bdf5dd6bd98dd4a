// How the picture lies in its box: enlarged and moved so that one point stays where it is under the pointer.

export interface Zoom {
  readonly scale: number;
  /** Move of the picture's top left corner, in fractions of its box. */
  readonly x: number;
  readonly y: number;
}

export const whole: Zoom = { scale: 1, x: 0, y: 0 };
const most = 12;

/** Zooms by a factor about a point given as fractions of the box; the picture never leaves the box. */
export function zoomAbout(zoom: Zoom, factor: number, x: number, y: number): Zoom {
  const scale = Math.min(most, Math.max(1, zoom.scale * factor));
  const ratio = scale / zoom.scale;
  return kept({ scale, x: x - (x - zoom.x) * ratio, y: y - (y - zoom.y) * ratio });
}

/** Moves the picture by fractions of its box. */
export function moved(zoom: Zoom, x: number, y: number): Zoom {
  return kept({ scale: zoom.scale, x: zoom.x + x, y: zoom.y + y });
}

function kept({ scale, x, y }: Zoom): Zoom {
  const least = 1 - scale;
  return { scale, x: Math.min(0, Math.max(least, x)), y: Math.min(0, Math.max(least, y)) };
}

/** The largest box of an aspect (width by height) inside another, in pixels. */
export function fitted(width: number, height: number, aspect: number): { width: number; height: number } {
  return width / height > aspect
    ? { width: Math.round(height * aspect), height: Math.round(height) }
    : { width: Math.round(width), height: Math.round(width / aspect) };
}
