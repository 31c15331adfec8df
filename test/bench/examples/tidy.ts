import type { Examples } from "./record.ts";

/** What is sent whole can be sent as it stands; lists in everything else are cut short, so that the document stays readable. */
const sentWhole: ReadonlySet<string> = new Set(["importOperation", "importCaseSet"]);
const entriesKept = 2;

/** Ids, times and secrets become the same every time, so that writing the examples again changes what has changed and no more. */
export function tidy(examples: Examples): Examples {
  const cut = Object.fromEntries(
    Object.keys(examples)
      .sort()
      .map((id) => {
        const { body, answer } = examples[id]!;
        return [
          id,
          {
            ...(body === undefined ? {} : { body: sentWhole.has(id) ? body : shortened(body) }),
            ...(answer === undefined ? {} : { answer: { ...answer, body: shortened(answer.body) } }),
          },
        ];
      }),
  );
  const ids = new Map<string, string>();
  const sameId = (id: string) => {
    const known = ids.get(id) ?? `00000000-0000-4000-8000-${String(ids.size + 1).padStart(12, "0")}`;
    ids.set(id, known);
    return known;
  };
  const text = JSON.stringify(cut)
    .replace(/[0-9a-f]{8}-[0-9a-f]{4}-4[0-9a-f]{3}-[89ab][0-9a-f]{3}-[0-9a-f]{12}/g, sameId)
    .replace(/\d{4}-\d\d-\d\dT\d\d:\d\d:\d\d\.\d{3}Z/g, "2027-06-06T16:00:00.000Z")
    .replace(/http:\/\/127\.0\.0\.1:\d+/g, "https://calmhour.example")
    .replace(/("(?:secret|csrfToken|link)":)"[^"]+"/g, '$1"EXAMPLE-not-a-real-one"')
    .replace(/(#(?:first|password|crew)\/)[^"]+/g, "$1EXAMPLE-not-a-real-one")
    .replace(/(\/api\/calendar\/)[^"/]+/g, "$1EXAMPLE-not-a-real-one");
  return JSON.parse(text) as Examples;
}

/** Lists of objects; what lies in lists of lists, as outlines do, stays whole. */
function shortened(value: unknown): unknown {
  if (Array.isArray(value)) {
    const isOfObjects = value.every((entry) => entry !== null && typeof entry === "object" && !Array.isArray(entry));
    return (isOfObjects ? value.slice(0, entriesKept) : value).map(shortened);
  }
  if (value === null || typeof value !== "object") return value;
  return Object.fromEntries(Object.entries(value).map(([key, inner]) => [key, shortened(inner)]));
}
