import { crewWords as words } from "../strings/crew.ts";

/** A position that the device's own map opens (RFC 5870). */
export function GeoLink({ latDeg, lonDeg }: { readonly latDeg: number; readonly lonDeg: number }) {
  const position = `${latDeg.toFixed(5)},${lonDeg.toFixed(5)}`;
  return (
    <a className="geoLink" href={`geo:${position}`} title={words.toMap}>
      {position.replace(",", ", ")}
    </a>
  );
}
