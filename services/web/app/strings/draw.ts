/** Words for drawing a field. */
export const drawWords = {
  title: "Ground and pads",
  map: "Map to draw on",
  hintClicks:
    "Click or tap on the map to set corners, one after the other, around the field. Every corner can be dragged, or set by its numbers below.",
  hintDrags:
    "Drag a corner to move it, or a plus to set a new one between two. Every corner can be set by its numbers below, too.",
  clicksAdd: "Each click or tap adds a corner",
  addObstacle: "Add an obstacle",
  addPiece: "Add another piece of ground",
  undo: "Undo",
  redo: "Redo",
  area: (area: string) => `Area: ${area}`,
  noArea: (hasFaults: boolean) => (hasFaults ? "This is no field yet:" : "Nothing is drawn yet."),
  ring: { outline: "Outline", obstacle: "Obstacle" },
  numbered: (name: string, number: number) => `${name} ${number}`,
  which: "What is being drawn",
  removeRing: (name: string) => `Remove ${name.toLowerCase()}`,
  whole: "The field",
  tooFew: (name: string, missing: number) =>
    `${name}: ${missing === 1 ? "one more corner is" : `${missing} more corners are`} needed.`,
  crosses: (name: string, { edge, other }: { readonly edge: number; readonly other: number }, count: number) =>
    `${name}: the edge from corner ${edge} to ${next(edge, count)} crosses or touches the edge from corner ${other} to ${next(other, count)}.`,
  isNot: (name: string, expected: string, value: string | null) =>
    `${name} must be ${expected}${value === null ? "" : `; this is ${value}`}.`,
  corners: (name: string) => `Corners of ${name.toLowerCase()}`,
  latitude: "Latitude",
  longitude: "Longitude",
  latitudeOf: (what: string) => `Latitude of ${what.toLowerCase()}`,
  longitudeOf: (what: string) => `Longitude of ${what.toLowerCase()}`,
  cornerNumber: (number: number) => `Corner ${number}`,
  addAfter: "Add after",
  addAfterCorner: (number: number) => `Add after corner ${number}`,
  remove: "Remove",
  removeCorner: (number: number) => `Remove corner ${number}`,
  addCorner: "Add a corner",
  pads: "Pads, where aircraft land and load",
  noPad: "A field needs a pad at least.",
  pad: (id: string) => `Pad ${id}`,
  addPad: "Add a pad",
  removePad: (id: string) => `Remove pad ${id}`,
  upload: "Take the ground from a file (GeoJSON or KML)",
  several: (count: number) => `The file has ${count} pieces of ground. Which is the field?`,
  take: "Take it",
  unnamed: (number: number) => `Ground ${number}`,
  taken: (name: string) => `Taken from the file: ${name}.`,
  fileFaults: {
    unread: "The file cannot be read.",
    noJson: "The file is neither GeoJSON nor KML.",
    noXml: "The file is not sound KML: it breaks off or is malformed.",
    noArea: "There is no ground with an outline in this file.",
    place: (path: string) =>
      `The file is faulty at ${path}: expected positions of longitude and latitude, four or more in a ring.`,
    system: (name: string) => `The file is in another coordinate system (${name}). Only WGS 84 can be taken.`,
    kmz: "This is a packed KMZ file. Unpack it and take the KML file in it.",
    coordinates: (text: string) => `The file is faulty at these coordinates: ${text}`,
  },
} as const;

function next(edge: number, count: number): number {
  return (edge % count) + 1;
}
