/** Links that are opened once: of the first start, to set a password, for a crew's phone. */
const linkKinds = ["first", "password", "crew"] as const;
export interface LinkPlace {
  readonly kind: (typeof linkKinds)[number];
  readonly link: string;
}

/** What the page shows, as it stands behind the # of its address. */
export type Place =
  | { readonly kind: "start" }
  | LinkPlace
  | { readonly kind: "week"; readonly planId: string }
  | { readonly kind: "sheet"; readonly planId: string; readonly crewId: string; readonly date: string };

export function addressOf(place: Place): string {
  switch (place.kind) {
    case "start":
      return "#";
    case "first":
    case "password":
    case "crew":
      return `#${[place.kind, place.link].map(encodeURIComponent).join("/")}`;
    case "week":
      return `#${["plan", place.planId].map(encodeURIComponent).join("/")}`;
    case "sheet":
      return `#${["plan", place.planId, place.crewId, place.date].map(encodeURIComponent).join("/")}`;
  }
}

export const isLink = (place: Place): place is LinkPlace => "link" in place;

/** An address that is no place of ours is the start. */
export function placeOf(address: string): Place {
  const [word, planId, crewId, date, ...rest] = address.replace(/^#/, "").split("/").map(decoded);
  const kind = linkKinds.find((known) => known === word);
  if (kind !== undefined && planId && crewId === undefined) return { kind, link: planId };
  if (word !== "plan" || planId === undefined || rest.length > 0) return { kind: "start" };
  if (crewId === undefined) return { kind: "week", planId };
  return date === undefined ? { kind: "start" } : { kind: "sheet", planId, crewId, date };
}

function decoded(part: string): string {
  try {
    return decodeURIComponent(part);
  } catch {
    return "";
  }
}
