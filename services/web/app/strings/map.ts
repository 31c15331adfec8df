/** Words of the maps. */
export const mapWords = {
  loading: "The map is being drawn.",
} as const;
