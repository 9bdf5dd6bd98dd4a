/** The middles of the lamps in the picture, in pixels; see apparatus.mjs. */
export const lampPlaces: Record<"left" | "right", Record<"valid" | "off-target", [number, number]>>;
