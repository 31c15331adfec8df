import { type Path, pathText } from "../../../../../shared/model/faults.ts";
import { labelOf } from "../../../../../shared/model/memberWords.ts";
import { thingWords } from "../../strings/things.ts";

/** Steps that nobody sees: of a feature, and of where lists lie in the document. */
const unseen = ["properties", "features", "fleet"];

/** A place in a thing, or in the whole document, as forms call it: `Products, 1, Rate`. */
export function placeWords(path: Path): string {
  const seen = path.filter((step) => typeof step === "number" || !unseen.includes(step));
  const words = seen.map((step) => (typeof step === "number" ? step + 1 : (thingWords[step]?.many ?? labelOf(step))));
  return words.join(", ") || pathText([...path]);
}
