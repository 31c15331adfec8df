const compassPoints = [
  "north",
  "north-east",
  "east",
  "south-east",
  "south",
  "south-west",
  "west",
  "north-west",
] as const;

/** The nearest of eight directions. */
export function compassWords(bearingDeg: number): string {
  const eighth = Math.round(bearingDeg / 45) % compassPoints.length;
  return compassPoints[eighth]!;
}
