export const moveWords = {
  place: (crew: string, day: string, after: string | null) =>
    after === null ? `${crew}, ${day}, as the first stop` : `${crew}, ${day}, after ${after}`,
  taken: (place: string) =>
    `Moving. It stands with ${place}. Left and right choose the place in the day, up and down the crew and day. Enter asks whether it goes, Escape leaves it.`,
  left: "Nothing was moved.",
  sameplace: "It stands there already.",
} as const;
