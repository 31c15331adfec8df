import type { Map as LeafletMap } from "leaflet";
import { mapWords } from "../strings/map.ts";
import type { BoxPx } from "./labels.ts";
import { roundTicks } from "./roundTicks.ts";
import { nearDeg } from "./unwrap.ts";

export interface EdgeDegree {
  readonly of: "lat" | "lon";
  /** From the frame's upper left corner, along the edge. */
  readonly alongPx: number;
  readonly words: string;
  /** Where the words stand, from the frame's upper left corner. */
  readonly box: BoxPx;
}

const gapPx = { lat: 70, lon: 120 } as const;
const wordsPx = { perSign: 7, heightPx: 14, fromEdgePx: 9 } as const;
/** Below this the words of both edges would meet. */
const cornerPx = 40;

/** Round degrees of latitude and longitude at the left and the lower edge, so that the map can be laid beside any other (WGS 84). */
export function edgeDegrees(map: LeafletMap): readonly EdgeDegree[] {
  const { x: widthPx, y: heightPx } = map.getSize();
  const bounds = map.getBounds();
  const middle = map.getCenter();
  const lons = roundTicks(bounds.getWest(), bounds.getEast(), widthPx / gapPx.lon).map(
    ({ text, value }): EdgeDegree => {
      const alongPx = map.latLngToContainerPoint([middle.lat, value]).x;
      const lonDeg = nearDeg(value, 0);
      const words = mapWords.edge.lon(unsigned(text, lonDeg), lonDeg < 0);
      const boxPx = words.length * wordsPx.perSign;
      const box = { leftPx: alongPx - boxPx / 2, topPx: heightPx - wordsPx.heightPx - wordsPx.fromEdgePx };
      return { of: "lon", alongPx, words, box: { ...box, widthPx: boxPx, heightPx: wordsPx.heightPx } };
    },
  );
  const lats = roundTicks(bounds.getSouth(), bounds.getNorth(), heightPx / gapPx.lat).map(
    ({ text, value }): EdgeDegree => {
      const alongPx = map.latLngToContainerPoint([value, middle.lng]).y;
      const words = mapWords.edge.lat(unsigned(text, value), value < 0);
      const box = { leftPx: wordsPx.fromEdgePx, topPx: alongPx - wordsPx.heightPx / 2 };
      const widthPx = words.length * wordsPx.perSign;
      return { of: "lat", alongPx, words, box: { ...box, widthPx, heightPx: wordsPx.heightPx } };
    },
  );
  return [
    ...lons.filter(({ box }) => box.leftPx >= 0 && box.leftPx + box.widthPx <= widthPx),
    ...lats.filter(({ box }) => box.topPx >= 0 && box.topPx <= heightPx - cornerPx),
  ];
}

/** Beyond the antimeridian the map counts on: the degrees told do not. */
function unsigned(text: string, valueDeg: number): string {
  const digits = text.split(".")[1]?.length ?? 0;
  return Math.abs(valueDeg).toFixed(digits);
}
