import { type LatLngBounds, Map as LeafletMap, latLngBounds, svg } from "leaflet";
import "leaflet/dist/leaflet.css";
import type { Bounds } from "../../../../shared/plan/mapPlaces.ts";
import { unwrapped } from "./unwrap.ts";

/** Our choice: nearer there is nothing to see that we know of. */
const nearestZoom = 21;
/** Room for signs and for names beside them. */
const marginPx = 32;
/** What lies within some metres is not fitted nearer than this. */
const fittedZoom = 18;

/** Empty ground to draw on: no tiles, nothing that is asked of anybody. */
export function createGround(div: HTMLElement): LeafletMap {
  return new LeafletMap(div, {
    zoomControl: false,
    attributionControl: false,
    zoomSnap: 0,
    zoomDelta: 1,
    minZoom: 2,
    maxZoom: nearestZoom,
    fadeAnimation: false,
    zoomAnimation: !matchMedia("(prefers-reduced-motion: reduce)").matches,
    // Drawn well beyond the frame, so that nothing is missing while the map is dragged.
    renderer: svg({ padding: 0.6 }),
    center: [0, 0],
    zoom: 2,
  });
}

/** Shows all that lies within the bounds; does nothing while the map is not seen. */
export function fitTo(map: LeafletMap, bounds: Bounds): void {
  const { x, y } = map.getSize();
  if (x === 0 || y === 0) return;
  map.fitBounds(leafletBounds(bounds), {
    padding: [Math.min(marginPx, x / 8), Math.min(marginPx, y / 8)],
    maxZoom: fittedZoom,
    animate: false,
  });
}

export function leafletBounds(bounds: Bounds): LatLngBounds {
  const [west, south, east, north] = unwrapped(bounds);
  return latLngBounds([south, west], [north, east]);
}

/** Our choice: what fills a quarter of the frame can be read. */
const leastShare = 0.25;

/** Whether all within the bounds is in view, and large enough to be looked at. */
export function isWellSeen(map: LeafletMap, bounds: Bounds): boolean {
  const shown = leafletBounds(bounds);
  if (!map.getBounds().contains(shown)) return false;
  const { x, y } = map.getSize();
  const [from, to] = [
    map.latLngToContainerPoint(shown.getNorthWest()),
    map.latLngToContainerPoint(shown.getSouthEast()),
  ];
  return Math.max((to.x - from.x) / x, (to.y - from.y) / y) >= leastShare;
}
