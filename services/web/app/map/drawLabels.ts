import {
  circleMarker,
  divIcon,
  type LatLngTuple,
  type LayerGroup,
  type Map as LeafletMap,
  layerGroup,
  marker,
  point as pointPx,
} from "leaflet";
import { geometryCentroidLonLat } from "../../../../shared/geo/convert.ts";
import { latLngOf, ringsOf, telling, textElement } from "./drawItems.ts";
import { edgeDegrees } from "./edgeDegrees.ts";
import { isSeenAt, type MapArea, type MapItems, type MapLine, type MapPoint } from "./items.ts";
import { type BoxPx, type LabelToPlace, meet, placeLabels } from "./labels.ts";
import { metresPerPx, signsFromMPerPx } from "./scale.ts";
import { signElement, signSizePx } from "./signs.ts";

const dotPx = 4;
const labelHeightPx = 18;
/** Bases, what is chosen, pads and water points are named wherever there is room at all. */
const neededWeight = 2000;
/** Ground that is seen this large bears labels of others. */
const largeBoxPx = 60;
/** What is chosen and small has a ring around it, as wide as a finger. */
const chosenRingPx = 17;
const isRinged = ({ heightPx, widthPx }: BoxPx) => widthPx <= 2 * chosenRingPx && heightPx <= 2 * chosenRingPx;

/** Of every text that was a label: measuring takes longer than placing. */
const widthsPx = new Map<string, number>();

/** Labels, and the signs that may give way, as they find place at the present zoom. */
export function drawLabels(map: LeafletMap, items: MapItems, middleDeg: number): LayerGroup {
  const context = document.createElement("canvas").getContext("2d")!;
  context.font = `600 13px ${getComputedStyle(map.getContainer()).fontFamily}`;
  const widthPxOf = (text: string) => {
    const widthPx = widthsPx.get(text) ?? Math.ceil(context.measureText(text).width) + 8;
    widthsPx.set(text, widthPx);
    return widthPx;
  };
  const areas = items.areas.map((area) => ({ area, box: boxOfArea(map, area, middleDeg) }));
  const points = items.points.map((point) => ({ point, box: boxOfSign(map, point, middleDeg) }));
  const mPerPx = metresPerPx(map.getCenter().lat, map.getZoom());
  const labelled = [
    ...areas.map(({ area, box }) => ({ ...area, box })),
    ...points.map(({ box, point }) => ({ ...point, box })),
    ...items.lines.flatMap((line) =>
      line.label === null || !isSeenAt(line, mPerPx)
        ? []
        : [{ ...line, box: boxOfEnd(map, line, middleDeg), label: line.label.text, labelWeight: line.label.weight }],
    ),
  ];
  const labels: LabelToPlace[] = labelled.flatMap(({ box, id, label, labelWeight }) =>
    label === null
      ? []
      : [
          {
            id,
            of: box,
            widthPx: widthPxOf(label),
            heightPx: labelHeightPx,
            weight: labelWeight,
            isUpon: false,
            isNeeded: labelWeight >= neededWeight,
          },
        ],
  );
  const shrinking = points.filter(({ point }) => point.mayShrink);
  const isNear = mPerPx < signsFromMPerPx;
  const signs = (isNear ? shrinking : []).map(({ box, point: { id, label, labelWeight } }): LabelToPlace => {
    // A sign that has a name goes before the name, others after all names.
    const weight = label === null ? -1 : labelWeight + 1;
    return {
      id: `sign of ${id}`,
      of: box,
      widthPx: box.widthPx,
      heightPx: box.heightPx,
      weight,
      isUpon: true,
      isNeeded: false,
    };
  });
  const notToCover = {
    ground: areas.flatMap(({ box }) => (Math.max(box.widthPx, box.heightPx) > largeBoxPx ? [] : [box])),
    signs: [
      ...points.flatMap(({ box, point }) => (point.mayShrink ? [] : [box])),
      ...edgeDegrees(map).map(({ box }) => inLayer(map, box)),
    ],
  };
  const places = placeLabels([...labels, ...signs], notToCover, viewOf(map));
  const group = layerGroup();
  for (const { area, box } of areas) {
    if (!area.isChosen || !isRinged(box)) continue;
    const middle = latLngOf(middleDeg, geometryCentroidLonLat(area.geometry));
    group.addLayer(circleMarker(middle, { radius: chosenRingPx, className: "mapRing", interactive: false }));
  }
  for (const { id, isFaded, label } of labelled) {
    const place = places.get(id);
    if (label === null || place === undefined) continue;
    const icon = divIcon({
      className: isFaded ? "mapLabel faded" : "mapLabel",
      html: textElement(label),
      iconSize: [0, 0],
      iconAnchor: [0, 0],
    });
    const at = map.layerPointToLatLng(pointPx(place.leftPx, place.topPx));
    group.addLayer(marker(at, { icon, interactive: false, keyboard: false }));
  }
  for (const { point } of shrinking) {
    const isSeen = places.has(`sign of ${point.id}`);
    // From afar dots of hazards would hide the fields that they stand by.
    if (!isNear && point.look.startsWith("hazard ")) continue;
    const [widthPx, heightPx] = isSeen ? signSizePx(point.look, null) : [dotPx, dotPx];
    const icon = divIcon({
      className: `mapPoint ${isSeen ? "" : `mapDot ${point.look}`} ${point.isFaded ? "faded" : ""}`,
      html: isSeen ? (signElement(point.look, null) as HTMLElement) : false,
      iconSize: [widthPx, heightPx],
    });
    const sign = marker(latLngOf(middleDeg, point.at), { icon, keyboard: false });
    group.addLayer(telling(map, sign, point.title));
  }
  return group.addTo(map);
}

function viewOf(map: LeafletMap): BoxPx {
  const { min, max } = map.getPixelBounds();
  const { x, y } = map.getPixelOrigin();
  return { leftPx: min!.x - x, topPx: min!.y - y, widthPx: max!.x - min!.x, heightPx: max!.y - min!.y };
}

function boxOfArea(map: LeafletMap, { geometry, isChosen }: MapArea, middleDeg: number): BoxPx {
  const points = ringsOf(middleDeg, geometry).flatMap((rings) => rings[0]!.map((one) => map.latLngToLayerPoint(one)));
  const [xs, ys] = [points.map(({ x }) => x), points.map(({ y }) => y)];
  const [leftPx, topPx] = [Math.min(...xs), Math.min(...ys)];
  const whole = { leftPx, topPx, widthPx: Math.max(...xs) - leftPx, heightPx: Math.max(...ys) - topPx };
  const box = seenOf(whole, viewOf(map));
  return isChosen ? around(map, latLngOf(middleDeg, geometryCentroidLonLat(geometry)), box) : box;
}

function around(map: LeafletMap, middle: LatLngTuple, box: BoxPx): BoxPx {
  if (!isRinged(box)) return box;
  const { x, y } = map.latLngToLayerPoint(middle);
  return { leftPx: x - chosenRingPx, topPx: y - chosenRingPx, widthPx: 2 * chosenRingPx, heightPx: 2 * chosenRingPx };
}

function boxOfSign(map: LeafletMap, { at, look, text }: MapPoint, middleDeg: number): BoxPx {
  const { x, y } = map.latLngToLayerPoint(latLngOf(middleDeg, at));
  const [widthPx, heightPx] = signSizePx(look, text);
  return { leftPx: x - widthPx / 2, topPx: y - heightPx / 2, widthPx, heightPx };
}

/** What of ground is in view: so its name stands in view, too. */
function seenOf(box: BoxPx, view: BoxPx): BoxPx {
  if (!meet(box, view)) return box;
  const [leftPx, topPx] = [Math.max(box.leftPx, view.leftPx), Math.max(box.topPx, view.topPx)];
  const rightPx = Math.min(box.leftPx + box.widthPx, view.leftPx + view.widthPx);
  const bottomPx = Math.min(box.topPx + box.heightPx, view.topPx + view.heightPx);
  return { leftPx, topPx, widthPx: rightPx - leftPx, heightPx: bottomPx - topPx };
}

function boxOfEnd(map: LeafletMap, { label, positions }: MapLine, middleDeg: number): BoxPx {
  const { x, y } = map.latLngToLayerPoint(latLngOf(middleDeg, positions.at(label?.at === "end" ? -1 : 0)!));
  return { leftPx: x, topPx: y, widthPx: 0, heightPx: 0 };
}

function inLayer(map: LeafletMap, box: BoxPx): BoxPx {
  const { x, y } = map.containerPointToLayerPoint([box.leftPx, box.topPx]);
  return { ...box, leftPx: x, topPx: y };
}
