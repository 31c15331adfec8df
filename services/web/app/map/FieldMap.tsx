import { lazy, memo, Suspense } from "react";
import { mapWords } from "../strings/map.ts";
import type { LeafletItemsProps } from "./LeafletItems.tsx";
import { MapGuard } from "./MapGuard.tsx";

const LeafletItems = lazy(() => import("./LeafletItems.tsx"));

/** Draws items on ground of plain colour. May be imported from anywhere: Leaflet comes when a map is shown. */
export const FieldMap = memo(function FieldMap(props: LeafletItemsProps) {
  return (
    <MapGuard>
      <Suspense fallback={<p className="quiet">{mapWords.loading}</p>}>
        <LeafletItems {...props} />
      </Suspense>
    </MapGuard>
  );
});
