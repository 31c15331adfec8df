import type { FieldOnMap } from "../../../../shared/plan/weekMap.ts";

/** Fields whose name, grower, crop or order has all the words in it, by name; accents and capitals are not minded. */
export function fieldsFound(fields: readonly FieldOnMap[], search: string): FieldOnMap[] {
  const words = plain(search).split(/\s+/).filter(Boolean);
  return fields
    .filter(({ crop, grower, name, orders }) => {
      const text = plain([name, grower, crop, ...orders].join(" "));
      return words.every((word) => text.includes(word));
    })
    .sort((a, b) => a.name.localeCompare(b.name));
}

function plain(text: string): string {
  return text.normalize("NFD").replace(/\p{M}/gu, "").toLowerCase();
}
