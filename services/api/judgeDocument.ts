import type { DefaultUsed } from "../../shared/model/defaultsUsed.ts";
import type { Operation } from "../../shared/model/operation.ts";
import { validateOperation } from "../../shared/model/validate.ts";
import { refuseWhole, shortened } from "./problems.ts";
import type { Answer } from "./route.ts";
import { unstorableTexts } from "./storableText.ts";

export type JudgedDocument =
  | { readonly ok: true; readonly operation: Operation; readonly defaultsUsed: DefaultUsed[] }
  | { readonly ok: false; readonly refusal: Answer };

/** A document as it would be stored. `sent` is what of it the caller has sent; `name`: that by which the operation is known, where it is. */
export function judgeDocument(document: unknown, sent: unknown, name: string | null): JudgedDocument {
  const judged = validateOperation(document);
  const faults = [...unstorableTexts(sent), ...(judged.ok ? [] : judged.faults.map(shortened))];
  if (judged.ok && name !== null && judged.operation.settings.name !== name) {
    const expected = `${JSON.stringify(name)}, by which the operation is known; another name is another operation`;
    faults.push({ path: ["settings", "name"], value: judged.operation.settings.name, expected });
  }
  return judged.ok && faults.length === 0 ? judged : { ok: false, refusal: refuseWhole(faults) };
}
