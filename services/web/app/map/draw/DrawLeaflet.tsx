import {
  divIcon,
  type LatLng,
  type LatLngTuple,
  type LayerGroup,
  type Map as LeafletMap,
  type LeafletMouseEvent,
  layerGroup,
  type Marker,
  marker,
  polygon,
} from "leaflet";
import { useEffect, useRef, useState } from "react";
import type { LonLat } from "../../../../../shared/geo/plane.ts";
import type { Bounds } from "../../../../../shared/plan/mapPlaces.ts";
import { drawWords } from "../../strings/draw.ts";
import { latLngOf, ringsOf, telling, textElement } from "../drawItems.ts";
import { MapFrame } from "../MapFrame.tsx";
import { signElement } from "../signs.ts";
import { middleDegOf, wrapped } from "../unwrap.ts";
import type { Around } from "./around.ts";
import type { Sketch } from "./sketch.ts";

const handlePx = 28;
/** Of corners that lie close: their numbers would hide one another. */
const smallPx = 14;
/** Our choice: on a shorter edge there is no room for a plus between the corners' handles. */
const leastEdgePx = 2.5 * handlePx;

export interface DrawLeafletProps {
  readonly sketch: Sketch;
  readonly ring: number;
  /** The corner that is looked at; null: none. */
  readonly corner: number | null;
  readonly addsByClick: boolean;
  readonly around: readonly Around[];
  readonly bounds: Bounds;
  readonly fitKey: string;
  readonly onAdd: (at: number, position: LonLat) => void;
  readonly onMove: (corner: number, position: LonLat) => void;
  readonly onMovePad: (pad: number, position: LonLat) => void;
  readonly onCorner: (corner: number) => void;
  readonly onRing: (ring: number) => void;
}

/** The sketch on the ground, its corners to be dragged. Comes with Leaflet. */
export default function DrawLeaflet(props: DrawLeafletProps) {
  const { addsByClick, around, bounds, corner, fitKey, ring, sketch } = props;
  const [map, setMap] = useState<LeafletMap | null>(null);
  const told = useRef(props);
  told.current = props;
  const middleDeg = middleDegOf(bounds);

  useEffect(() => {
    if (map === null) return;
    const others = layerGroup();
    for (const { geometry } of around) {
      const ground = polygon(ringsOf(middleDeg, geometry), {
        className: "mapArea around",
        interactive: false,
        fillOpacity: 1,
      });
      others.addLayer(ground.addTo(map).bringToBack());
    }
    return () => void others.remove();
  }, [map, around, middleDeg]);

  useEffect(() => {
    if (map === null || !addsByClick) return;
    const add = ({ latlng }: LeafletMouseEvent) => {
      const { onAdd, ring: at, sketch: present } = told.current;
      onAdd(present.rings[at]?.corners.length ?? 0, positionOf(latlng));
    };
    map.on("click", add);
    // Two corners in quick succession are no wish to be nearer.
    map.doubleClickZoom.disable();
    return () => {
      map.off("click", add);
      map.doubleClickZoom.enable();
    };
  }, [map, addsByClick]);

  useEffect(() => {
    if (map === null) return;
    let drawn = drawSketch(map, sketch, ring, corner, middleDeg, told);
    // Which handles have room is another matter at another scale. The handle under a finger stays: without it the touch goes nowhere.
    const drawAgain = () => {
      if (map.getPane("markerPane")?.querySelector(".leaflet-drag-target")) return;
      drawn.remove();
      drawn = drawSketch(map, sketch, ring, corner, middleDeg, told);
    };
    map.on("zoomend", drawAgain);
    return () => {
      map.off("zoomend", drawAgain);
      drawn.remove();
    };
  }, [map, sketch, ring, corner, middleDeg]);

  return <MapFrame name={drawWords.map} bounds={bounds} fitKey={fitKey} onMap={setMap} />;
}

function drawSketch(
  map: LeafletMap,
  { pads, rings }: Sketch,
  active: number,
  corner: number | null,
  middleDeg: number,
  told: { readonly current: DrawLeafletProps },
): LayerGroup {
  const group = layerGroup();
  const places = rings.map(({ corners }) => corners.map((one) => latLngOf(middleDeg, one)));
  const grounds = rings.map(({ kind }, at) =>
    polygon(places[at]!, {
      className: `mapSketch ${kind}${at === active ? " active" : ""}`,
      fillOpacity: 1,
      interactive: at !== active && !told.current.addsByClick,
      bubblingMouseEvents: false,
    }).on("click", () => told.current.onRing(at)),
  );
  // Obstacles lie on the ground that they are cut out of.
  for (const kind of ["outline", "obstacle"]) {
    for (const [at, ring] of rings.entries()) if (ring.kind === kind) group.addLayer(grounds[at]!);
  }
  const ofActive = places[active] ?? [];
  for (const [at, place] of ofActive.entries()) {
    const isClose = at > 0 && gapPx(map, ofActive[at - 1]!, place) < handlePx;
    const handle = handleAt(place, at === corner ? "chosen" : isClose ? "small" : "", String(at + 1));
    handle.on("click", () => told.current.onCorner(at));
    handle.on("drag", () => grounds[active]!.setLatLngs(ofActive.with(at, tupleOf(handle.getLatLng()))));
    handle.on("dragend", () => told.current.onMove(at, positionOf(handle.getLatLng())));
    group.addLayer(handle);
  }
  if (ofActive.length >= 2) {
    for (const [at, place] of ofActive.entries()) {
      const after = ofActive[(at + 1) % ofActive.length]!;
      if (gapPx(map, place, after) < leastEdgePx) continue;
      const middle: LatLngTuple = [(place[0] + after[0]) / 2, (place[1] + after[1]) / 2];
      const handle = handleAt(middle, "between", "+");
      const add = () => told.current.onAdd(at + 1, positionOf(handle.getLatLng()));
      handle.on("click", add);
      handle.on("drag", () => grounds[active]!.setLatLngs(ofActive.toSpliced(at + 1, 0, tupleOf(handle.getLatLng()))));
      handle.on("dragend", add);
      group.addLayer(handle);
    }
  }
  for (const [at, pad] of pads.entries()) {
    const sign = marker(latLngOf(middleDeg, [pad.lonDeg, pad.latDeg]), {
      icon: divIcon({
        className: "mapPoint",
        html: signElement("pad", null) as HTMLElement,
        iconSize: [handlePx, handlePx],
      }),
      draggable: true,
      keyboard: false,
      zIndexOffset: 500,
    });
    telling(map, sign, drawWords.pad(pad.id));
    sign.on("dragend", () => told.current.onMovePad(at, positionOf(sign.getLatLng())));
    group.addLayer(sign);
  }
  return group.addTo(map);
}

function handleAt(at: LatLngTuple, look: "" | "chosen" | "small" | "between", text: string): Marker {
  const sizePx = look === "small" ? smallPx : handlePx;
  return marker(at, {
    icon: divIcon({ className: `mapHandle ${look}`, html: textElement(text), iconSize: [sizePx, sizePx] }),
    draggable: true,
    keyboard: false,
    bubblingMouseEvents: false,
    zIndexOffset: text === "+" ? 0 : 1000,
  });
}

const gapPx = (map: LeafletMap, one: LatLngTuple, other: LatLngTuple): number =>
  map.latLngToLayerPoint(one).distanceTo(map.latLngToLayerPoint(other));

const tupleOf = ({ lat, lng }: LatLng): LatLngTuple => [lat, lng];
const positionOf = ({ lat, lng }: LatLng): LonLat => wrapped([lng, lat]);
