import { type CurvePoint, stepPath } from "./progressCurve.ts";

const size = { widthPx: 220, heightPx: 44 };
const marginPx = 3;

/** How the best plan so far has grown over the time that is given. The figures stand beside it in words. */
export function ProgressCurve({ label, points }: { readonly label: string; readonly points: readonly CurvePoint[] }) {
  const width = size.widthPx + 2 * marginPx;
  const height = size.heightPx + 2 * marginPx;
  return (
    <figure className="progressCurve">
      <figcaption>{label}</figcaption>
      <svg viewBox={`${-marginPx} ${-marginPx} ${width} ${height}`} width={width} height={height} aria-hidden="true">
        <path className="curveGround" d={`M0 ${size.heightPx}H${size.widthPx}`} />
        <path className="curveLine" d={stepPath(points, size)} />
      </svg>
    </figure>
  );
}
