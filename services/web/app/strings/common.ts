import type { RoomName } from "../rooms.ts";

/** Words that stand on every screen. */
export const common = {
  product: "Calmhour",
  skip: "Skip to the content",
  menu: "Rooms",
  rooms: {
    day: "Crew's day",
    week: "Week",
    orders: "Orders",
    fleet: "Fleet",
    weather: "Weather",
    cases: "What if",
    records: "Records",
    people: "People",
  } satisfies Record<RoomName, string>,
  loading: "Reading.",
  failed: {
    noAnswer: "The server does not answer. What is shown may be old.",
    noAnswerEmpty: "The server does not answer. It is tried again by itself.",
    page: "This part of the screen has failed. Load the page again; what is stored is not touched.",
    again: "Try again",
    more: (count: number) => `and ${count} more`,
  },
  save: "Save",
  cancel: "Cancel",
  close: "Close",
  remove: "Remove",
  search: "Search",
  nothingFound: "Nothing fits this search.",
  looks: { title: "Look", auto: "As the device", day: "Day", night: "Night", sun: "Bright sun" },
  units: { title: "Units", metric: "Metric", us: "US customary" },
  noRoom: "You are signed in, but nobody has given you anything to do here yet. Ask your administrator for a role.",
  operation: "Operation",
  nothingStored: "Nothing is stored yet. A dispatcher can take in an operation under Orders.",
} as const;
