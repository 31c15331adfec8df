export type Child = Node | string | null;
type Attributes = Readonly<Record<string, string>>;

/** An element with attributes and children. Strings become text nodes, never markup. */
export function el<Tag extends keyof HTMLElementTagNameMap>(
  tag: Tag,
  attributes: Attributes,
  ...children: readonly Child[]
): HTMLElementTagNameMap[Tag] {
  return filled(document.createElement(tag), attributes, children);
}

export function svg<Tag extends keyof SVGElementTagNameMap>(
  tag: Tag,
  attributes: Attributes,
  ...children: readonly Child[]
): SVGElementTagNameMap[Tag] {
  return filled(document.createElementNS("http://www.w3.org/2000/svg", tag), attributes, children);
}

function filled<Made extends Element>(made: Made, attributes: Attributes, children: readonly Child[]): Made {
  for (const [name, value] of Object.entries(attributes)) made.setAttribute(name, value);
  made.append(...children.filter((child) => child !== null));
  return made;
}

/** A row begins with what it is about. */
export type Row = readonly [about: Child, ...cells: Child[]];

export function table(caption: string, heads: readonly string[], rows: readonly Row[], className: string): HTMLElement {
  return el(
    "div",
    { class: "scroller" },
    el(
      "table",
      { class: className },
      el("caption", {}, caption),
      el("thead", {}, el("tr", {}, ...heads.map((head) => el("th", { scope: "col" }, head)))),
      el(
        "tbody",
        {},
        ...rows.map(([first, ...rest]) =>
          el("tr", {}, el("th", { scope: "row" }, first), ...rest.map((cell) => el("td", {}, cell))),
        ),
      ),
    ),
  );
}

export function byId<Made extends HTMLElement>(id: string, kind: new () => Made): Made {
  const found = document.getElementById(id);
  if (!(found instanceof kind)) throw new Error(`the page has no ${id}`);
  return found;
}
