import {
  circle,
  divIcon,
  type LatLngTuple,
  type Layer,
  type LayerGroup,
  type Map as LeafletMap,
  type LeafletMouseEvent,
  layerGroup,
  marker,
  type Path,
  polygon,
  polyline,
  tooltip,
} from "leaflet";
import type { LonLat } from "../../../../shared/geo/plane.ts";
import type { AreaGeometry } from "../../../../shared/model/field.ts";
import { isSeenAt, type MapArea, type MapItems, type MapLine, type MapPoint } from "./items.ts";
import { arrowOf, fillOf } from "./Patterns.tsx";
import { metresPerPx } from "./scale.ts";
import { signElement, signSizePx } from "./signs.ts";
import { nearDeg } from "./unwrap.ts";

export interface Drawing {
  readonly map: LeafletMap;
  /** Of the patterns' names. */
  readonly prefix: string;
  /** Around which longitudes are unwrapped. */
  readonly middleDeg: number;
  readonly onChoose: (chooses: string) => void;
}

/** Draws everything but labels; the group is removed when something else is to be drawn. */
export function drawItems(drawing: Drawing, items: MapItems): LayerGroup {
  // What lies on the ground first, what is done on it above.
  const waters = items.lines.filter(({ look }) => look === "water");
  const ways = items.lines.filter(({ look }) => look !== "water");
  const wayLayers = ways.map((line) => lineLayer(drawing, line));
  const group = layerGroup([
    ...waters.map((line) => lineLayer(drawing, line)),
    ...items.areas.map((area) => areaLayer(drawing, area)),
    ...wayLayers,
    ...items.points.filter(({ reachM }) => reachM > 0).map((point) => reachLayer(drawing, point)),
    ...items.points.filter(({ mayShrink }) => !mayShrink).map((point) => signLayer(drawing, point)),
  ]).addTo(drawing.map);
  for (const [at, { hasArrow, look }] of ways.entries()) {
    const place = look === "road" ? "marker-mid" : "marker-end";
    if (hasArrow) wayLayers[at]!.getElement()?.setAttribute(place, arrowOf(drawing.prefix, look));
  }
  const sift = () => {
    const mPerPx = metresPerPx(drawing.map.getCenter().lat, drawing.map.getZoom());
    for (const [at, line] of ways.entries()) {
      const classes = wayLayers[at]!.getElement()?.classList;
      classes?.toggle("unseen", !isSeenAt(line, mPerPx));
      classes?.toggle("withoutArrow", line.seen !== null && mPerPx > line.seen.arrowUpToMPerPx);
    }
  };
  sift();
  drawing.map.on("zoomend", sift);
  group.on("remove", () => drawing.map.off("zoomend", sift));
  // Browsers let Tab stop at whatever hears of focus, as all that has a tooltip does; by keyboard the list beside the map is gone through.
  group.eachLayer((layer) => (layer as Path).getElement?.()?.setAttribute("tabindex", "-1"));
  return group;
}

export const latLngOf = (middleDeg: number, [lonDeg, latDeg]: LonLat): LatLngTuple => [
  latDeg,
  nearDeg(lonDeg, middleDeg),
];

export function ringsOf(middleDeg: number, geometry: AreaGeometry): LatLngTuple[][][] {
  const polygons = geometry.type === "Polygon" ? [geometry.coordinates] : geometry.coordinates;
  return polygons.map((rings) => rings.map((ring) => ring.map((position) => latLngOf(middleDeg, position))));
}

function classesOf(kind: string, { isFaded }: { readonly isFaded: boolean }, ...more: readonly string[]): string {
  return [kind, ...more, ...(isFaded ? ["faded"] : [])].join(" ");
}

function areaLayer(drawing: Drawing, area: MapArea): Layer {
  const fill = fillOf(drawing.prefix, area.look);
  const layer = polygon(ringsOf(drawing.middleDeg, area.geometry), {
    className: classesOf("mapArea", area, area.look, ...(area.isChosen ? ["chosen"] : [])),
    ...(fill === null ? {} : { fillColor: fill }),
    fillOpacity: 1,
    smoothFactor: 0.5,
    interactive: true,
    bubblingMouseEvents: false,
  });
  return answering(drawing, layer, area);
}

function lineLayer({ map, middleDeg }: Drawing, line: MapLine): Path {
  const places = line.positions.map((position) => latLngOf(middleDeg, position));
  // A way has its arrow in the middle, where no sign covers it; a corner is needed there, which no smoothing may take away.
  const isWay = line.look === "road" && places.length === 2;
  const layer = polyline(isWay ? [places[0]!, between(places[0]!, places[1]!), places[1]!] : places, {
    className: classesOf("mapLine", line, line.look),
    fill: false,
    smoothFactor: isWay ? 0 : 0.5,
    interactive: true,
  });
  return telling(map, layer, line.title);
}

const between = (a: LatLngTuple, b: LatLngTuple): LatLngTuple => [(a[0] + b[0]) / 2, (a[1] + b[1]) / 2];

function reachLayer({ middleDeg }: Drawing, point: MapPoint): Layer {
  return circle(latLngOf(middleDeg, point.at), {
    radius: point.reachM,
    className: classesOf("mapReach", point, point.look),
    interactive: false,
  });
}

function signLayer(drawing: Drawing, point: MapPoint): Layer {
  const [widthPx, heightPx] = signSizePx(point.look, point.text);
  const sign = marker(latLngOf(drawing.middleDeg, point.at), {
    icon: divIcon({
      className: classesOf("mapPoint", point),
      html: signElement(point.look, point.text) as HTMLElement,
      iconSize: [widthPx, heightPx],
    }),
    keyboard: false,
    interactive: true,
    // Numbers are read and pressed before all else.
    zIndexOffset: point.look === "stop" ? 2000 : 0,
  });
  return answering(drawing, sign, point);
}

function answering<Drawn extends Layer>(
  { map, onChoose }: Drawing,
  layer: Drawn,
  { chooses, title }: { readonly title: string; readonly chooses: string | null },
): Drawn {
  telling(map, layer, title);
  if (chooses !== null) layer.on("click", () => onChoose(chooses));
  return layer;
}

/**
 * Tells the title where the mouse is. Leaflet's own way listens to the focus of every path, and a browser takes a path of which that is asked for a stop of the Tab key: there would be one for every field.
 */
export function telling<Drawn extends Layer>(map: LeafletMap, layer: Drawn, title: string): Drawn {
  const words = tooltip({ offset: [8, 0] }).setContent(textElement(title));
  const tell = ({ latlng }: LeafletMouseEvent) => map.openTooltip(words.setLatLng(latlng));
  layer.on("mouseover", tell).on("mousemove", tell);
  layer.on("mouseout remove", () => words.remove());
  return layer;
}

/** Names come from outside: they are text, whatever stands in them. */
export function textElement(text: string): HTMLElement {
  const element = document.createElement("span");
  element.textContent = text;
  return element;
}
