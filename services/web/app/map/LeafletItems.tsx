import type { Map as LeafletMap } from "leaflet";
import { useEffect, useId, useRef, useState } from "react";
import { geometryCentroidLonLat } from "../../../../shared/geo/convert.ts";
import type { Bounds } from "../../../../shared/plan/mapPlaces.ts";
import { drawItems, latLngOf } from "./drawItems.ts";
import { drawLabels } from "./drawLabels.ts";
import type { MapItems } from "./items.ts";
import { MapFrame } from "./MapFrame.tsx";
import { Patterns } from "./Patterns.tsx";
import { middleDegOf } from "./unwrap.ts";

export interface LeafletItemsProps {
  readonly name: string;
  readonly items: MapItems;
  readonly bounds: Bounds;
  readonly onChoose: (chooses: string) => void;
  readonly shape?: Bounds;
}

/** Items on the ground. Comes with Leaflet, so it is asked for only by what is shown (FieldMap.tsx). */
export default function LeafletItems({ bounds, items, name, onChoose, shape }: LeafletItemsProps) {
  const [map, setMap] = useState<LeafletMap | null>(null);
  const prefix = `map${useId()}`;
  const choose = useRef(onChoose);
  choose.current = onChoose;
  const middleDeg = middleDegOf(bounds);

  useEffect(() => {
    if (map === null) return;
    const group = drawItems({ map, prefix, middleDeg, onChoose: (chooses) => choose.current(chooses) }, items);
    return () => void group.remove();
  }, [map, items, prefix, middleDeg]);

  useEffect(() => {
    if (map === null) return;
    let labels = drawLabels(map, items, middleDeg);
    const drawAgain = () => {
      labels.remove();
      labels = drawLabels(map, items, middleDeg);
    };
    map.on("moveend viewreset", drawAgain);
    return () => {
      map.off("moveend viewreset", drawAgain);
      labels.remove();
    };
  }, [map, items, middleDeg]);

  const chosen = items.areas.find(({ isChosen }) => isChosen);
  const chosenId = chosen?.id;
  // biome-ignore lint/correctness/useExhaustiveDependencies: what is chosen comes into view once, and may be moved out of it again.
  useEffect(() => {
    if (map === null || chosen === undefined) return;
    const place = latLngOf(middleDeg, geometryCentroidLonLat(chosen.geometry));
    if (!map.getBounds().contains(place)) map.panTo(place, { animate: false });
  }, [map, chosenId]);

  return (
    <MapFrame name={name} bounds={bounds} onMap={setMap} shape={shape ?? null}>
      <Patterns prefix={prefix} />
    </MapFrame>
  );
}
