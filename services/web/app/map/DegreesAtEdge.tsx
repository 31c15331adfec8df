import type { Map as LeafletMap } from "leaflet";
import { useEffect, useState } from "react";
import { edgeDegrees } from "./edgeDegrees.ts";

const tickPx = 7;

/** Degrees along the edges of a map; told to nobody who hears the screen, since they name nothing that is there. */
export function DegreesAtEdge({ map }: { readonly map: LeafletMap }) {
  const [ticks, setTicks] = useState(() => edgeDegrees(map));
  useEffect(() => {
    const look = () => setTicks(edgeDegrees(map));
    look();
    map.on("move zoomend resize", look);
    return () => void map.off("move zoomend resize", look);
  }, [map]);
  const { x: widthPx, y: heightPx } = map.getSize();
  return (
    <svg className="mapDegrees" aria-hidden="true">
      {ticks.map(({ alongPx, box: { heightPx: wordsPx, leftPx, topPx, widthPx: boxPx }, of, words }) => (
        <g key={words}>
          <path
            d={
              of === "lon"
                ? `M${alongPx} 0v${tickPx}M${alongPx} ${heightPx}v-${tickPx}`
                : `M0 ${alongPx}h${tickPx}M${widthPx} ${alongPx}h-${tickPx}`
            }
          />
          <text
            x={of === "lon" ? leftPx + boxPx / 2 : leftPx}
            y={topPx + wordsPx - 3}
            textAnchor={of === "lon" ? "middle" : "start"}
          >
            {words}
          </text>
        </g>
      ))}
    </svg>
  );
}
