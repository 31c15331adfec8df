import { useEffect, useState } from "react";
import type { LonLat } from "../../../../shared/geo/plane.ts";
import { mapWords } from "../strings/map.ts";
import { useUnits } from "../units/units.ts";
import type { MapPoint } from "./items.ts";

interface Position {
  readonly at: LonLat;
  /** Within which one is with 95 % confidence (W3C Geolocation, section 5.7). */
  readonly accuracyM: number;
}

export interface Where {
  readonly isAsked: boolean;
  readonly at: Position | null;
  readonly failed: keyof typeof mapWords.whereFailed | null;
  readonly ask: (isAsked: boolean) => void;
}

/** Where this device is, once it has been asked for; nothing of it leaves the device. */
export function useWhereIAm(): Where {
  const [isAsked, ask] = useState(false);
  const [at, setAt] = useState<Position | null>(null);
  const [failed, setFailed] = useState<Where["failed"]>(null);
  useEffect(() => {
    setAt(null);
    setFailed(null);
    if (!isAsked) return;
    // Pages that came without https have no position (W3C Geolocation: secure contexts only).
    if (!window.isSecureContext || !("geolocation" in navigator)) return setFailed("never");
    const watch = navigator.geolocation.watchPosition(
      ({ coords: { accuracy, latitude, longitude } }) => {
        setAt({ at: [longitude, latitude], accuracyM: accuracy });
        setFailed(null);
      },
      ({ code, PERMISSION_DENIED }) => setFailed(code === PERMISSION_DENIED ? "refused" : "unknown"),
      { enableHighAccuracy: true, maximumAge: 10_000 },
    );
    return () => navigator.geolocation.clearWatch(watch);
  }, [isAsked]);
  return { isAsked, at, failed, ask };
}

export function WhereIAm({ where: { ask, at, failed, isAsked } }: { readonly where: Where }) {
  const units = useUnits();
  return (
    <div className="mapWhere">
      <button type="button" aria-pressed={isAsked} onClick={() => ask(!isAsked)}>
        {isAsked ? mapWords.whereNot : mapWords.whereAmI}
      </button>
      <p role="status">
        {failed !== null && mapWords.whereFailed[failed]}
        {failed === null && at !== null && mapWords.where(units.lengthM(at.accuracyM))}
      </p>
    </div>
  );
}

export function whereItem({ accuracyM, at }: Position): MapPoint {
  return {
    id: "me",
    look: "me",
    at,
    text: null,
    title: mapWords.keyWords.me,
    label: null,
    labelWeight: 0,
    isFaded: false,
    chooses: null,
    reachM: accuracyM,
    mayShrink: false,
  };
}
