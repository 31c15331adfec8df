/** Stations have ids only; they are shown as people would write them: `Station west` of station-west. */
function wordsOfId(id: string): string {
  const words = id.replace(/[-_]+/g, " ").trim();
  return words === "" ? id : words.charAt(0).toUpperCase() + words.slice(1);
}

/** Two ids that would read the same stay as they are. */
export function stationWords(id: string, stations: readonly string[]): string {
  const words = wordsOfId(id);
  return stations.some((other) => other !== id && wordsOfId(other) === words) ? id : words;
}
