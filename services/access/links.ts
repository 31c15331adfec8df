/** Our choice: whoever is added on a Friday can sign in on Monday. */
export const passwordLinkHours = 72;
export const firstLinkHours = 24;

/** What follows # never leaves the browser: it stands in no log of a server or proxy. */
export const linkPath = (kind: "first" | "password" | "crew", text: string): string => `/#${kind}/${text}`;
