import type { AreaLook, MapLine } from "./items.ts";

/** Looks of ground that is filled with a pattern, and what the pattern draws in its square. */
const drawn = {
  partly: { sizePx: 10, path: "M-2 12L12-2M-2 2L2-2M8 12L12 8" },
  notPlanned: { sizePx: 12, path: "M3 3l6 6M9 3l-6 6" },
  dwelling: { sizePx: 10, path: "M2 7l3-3 3 3" },
  school: { sizePx: 10, path: "M2 2h6v6H2z" },
  water: { sizePx: 12, path: "M0 4q3-4 6 0t6 0M0 10q3-4 6 0t6 0" },
  apiary: { sizePx: 12, path: "M4 2h4l3 4-3 4H4L1 6z" },
  organic: { sizePx: 10, path: "M5 1v8M1 5h8" },
  susceptible: { sizePx: 8, path: "M4 2v4" },
} as const satisfies Partial<Record<AreaLook, { readonly sizePx: number; readonly path: string }>>;

type Patterned = keyof typeof drawn;

const isPatterned = (look: AreaLook): look is Patterned => look in drawn;

const patternId = (prefix: string, look: Patterned) => `${prefix}${look}`;

/** What ground of this look is filled with; null: plainly, as the style sheet says. */
export function fillOf(prefix: string, look: AreaLook): string | null {
  return isPatterned(look) ? `url(#${patternId(prefix, look)})` : null;
}

export const arrowOf = (prefix: string, look: MapLine["look"]): string => `url(#${prefix}arrow-${look})`;

/** The patterns and arrows that a map refers to; `prefix` keeps those of two maps apart. */
export function Patterns({ prefix }: { readonly prefix: string }) {
  return (
    <svg className="mapPatterns" aria-hidden="true">
      <defs>
        {(Object.keys(drawn) as Patterned[]).map((look) => (
          <pattern
            key={look}
            id={patternId(prefix, look)}
            className={`mapPattern ${look}`}
            width={drawn[look].sizePx}
            height={drawn[look].sizePx}
            patternUnits="userSpaceOnUse"
          >
            <rect className="patternGround" width={drawn[look].sizePx} height={drawn[look].sizePx} />
            <path className="patternMark" d={drawn[look].path} />
          </pattern>
        ))}
        {(["road", "pass", "heading"] as const).map((look) => (
          <marker
            key={look}
            id={`${prefix}arrow-${look}`}
            viewBox="0 0 10 10"
            refX="9"
            refY="5"
            markerUnits="userSpaceOnUse"
            markerWidth={look === "pass" ? 8 : 12}
            markerHeight={look === "pass" ? 8 : 12}
            orient="auto"
          >
            <path className="mapArrowHead" d="M0 0L10 5L0 10z" />
          </marker>
        ))}
      </defs>
    </svg>
  );
}
