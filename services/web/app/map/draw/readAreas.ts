import { drawWords } from "../../strings/draw.ts";
import type { AreasInFile } from "./areasInFile.ts";
import { areasInGeoJson } from "./areasInGeoJson.ts";
import { areasInKml } from "./areasInKml.ts";

/** The ground in a file that somebody has chosen, whatever its name ends in. */
export async function readAreas(file: Blob): Promise<AreasInFile> {
  const text = await file.text().catch(() => null);
  if (text === null) return { ok: false, words: drawWords.fileFaults.unread };
  // The mark of a packed file.
  if (text.startsWith("PK\u0003\u0004")) return { ok: false, words: drawWords.fileFaults.kmz };
  if (text.trimStart().startsWith("<")) {
    const parsed = new DOMParser().parseFromString(text, "application/xml");
    if (parsed.querySelector("parsererror") !== null) return { ok: false, words: drawWords.fileFaults.noXml };
    return areasInKml(parsed.documentElement);
  }
  try {
    return areasInGeoJson(JSON.parse(text));
  } catch {
    return { ok: false, words: drawWords.fileFaults.noJson };
  }
}
