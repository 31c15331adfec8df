import type { Map as LeafletMap } from "leaflet";
import { useEffect, useId, useRef, useState } from "react";
import type { Bounds } from "../../../../shared/plan/mapPlaces.ts";
import { drawItems } from "./drawItems.ts";
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
  readonly fitKey?: string;
  readonly shape?: Bounds | null;
  readonly whole?: { readonly bounds: Bounds; readonly words: string } | null;
}

/** Items on the ground. Comes with Leaflet, so it is asked for only by what is shown (FieldMap.tsx). */
export default function LeafletItems({ items, onChoose, ...frame }: LeafletItemsProps) {
  const [map, setMap] = useState<LeafletMap | null>(null);
  const prefix = `map${useId()}`;
  const choose = useRef(onChoose);
  choose.current = onChoose;
  const middleDeg = middleDegOf(frame.whole?.bounds ?? frame.bounds);

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

  return (
    <MapFrame {...frame} onMap={setMap}>
      <Patterns prefix={prefix} />
    </MapFrame>
  );
}
