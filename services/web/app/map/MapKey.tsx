import { useEffect, useId, useRef } from "react";
import { mapWords } from "../strings/map.ts";
import type { AreaLook, MapItems, MapLine, PointLook } from "./items.ts";
import { arrowOf, fillOf, Patterns } from "./Patterns.tsx";
import { signElement } from "./signs.ts";
import "./hazards.css";

/** What the signs of these items mean, those that are there alone. */
export function MapKey({ items }: { readonly items: MapItems }) {
  const prefix = `key${useId()}`;
  const areas = [...new Set(items.areas.map(({ look }) => look))];
  const lines = [...new Set(items.lines.map(({ look }) => look))].filter(
    (look) => look !== "water" && look !== "hazardMarks",
  );
  const points = [...new Set(items.points.map(({ look }) => look))];
  const inAreas = new Set<string>(areas);
  return (
    <details className="mapKey">
      <summary>{mapWords.key}</summary>
      <Patterns prefix={prefix} />
      <ul>
        {areas.map((look) => (
          <li key={`area ${look}`}>
            <AreaSwatch look={look} prefix={prefix} />
            {mapWords.keyWords[look]}
          </li>
        ))}
        {lines.map((look) => (
          <li key={`line ${look}`}>
            <LineSwatch look={look} prefix={prefix} />
            {mapWords.keyWords[look]}
          </li>
        ))}
        {points.map((look) => (
          <li key={`point ${look}`}>
            <Sign look={look} />
            {inAreas.has(look) ? mapWords.keySign(mapWords.keyWords[look]) : mapWords.keyWords[look]}
          </li>
        ))}
      </ul>
    </details>
  );
}

function AreaSwatch({ look, prefix }: { readonly look: AreaLook; readonly prefix: string }) {
  return (
    <svg className="swatch" viewBox="0 0 36 22" aria-hidden="true">
      <rect
        className={`mapArea ${look}`}
        x="1.5"
        y="1.5"
        width="33"
        height="19"
        fill={fillOf(prefix, look) ?? undefined}
      />
    </svg>
  );
}

function LineSwatch({ look, prefix }: { readonly look: MapLine["look"]; readonly prefix: string }) {
  return (
    <svg className="swatch" viewBox="0 0 36 22" aria-hidden="true">
      <path
        className={`mapLine ${look}`}
        d="M2 11H33"
        markerEnd={look === "road" || look === "pass" ? arrowOf(prefix, look) : undefined}
      />
      {look === "hazard" && <path className="mapLine hazardMarks" d="M2 11H33" />}
    </svg>
  );
}

function Sign({ look }: { readonly look: PointLook }) {
  const place = useRef<HTMLSpanElement>(null);
  useEffect(() => place.current!.replaceChildren(signElement(look, "1")), [look]);
  return <span ref={place} className="swatch" aria-hidden="true" />;
}
