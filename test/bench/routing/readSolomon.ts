import { type Convention, distancesBetween, scaled } from "./conventions.ts";
import type { RoutingInstance, RoutingStop } from "./instance.ts";
import { type Line, refuse, rowIn } from "./textFile.ts";

/** Solomon has 25, 50 or 100 customers; Gehring and Homberger begin at 200. */
const mostStopsOfSolomon = 100;

/** The text format of Solomon 1987: name, fleet, then a row for the depot and for each customer. */
export function readSolomon(lines: readonly Line[], convention: Convention): RoutingInstance {
  const last = lines.at(-1)!;
  const after = (heading: RegExp): number => {
    const at = lines.findIndex((line) => heading.test(line.text));
    return at < 0 ? refuse(last, `nothing like ${heading.source} up to the end`) : at + 1;
  };
  const fleetAt = after(/^NUMBER\s+CAPACITY$/);
  const rowsAt = after(/^CUST NO\./);
  const [count, capacity] = rowIn(lines[fleetAt] ?? last, 2);
  const rows = lines.slice(rowsAt).map((line, place) => {
    const [number, x, y, demand, from, to, serviceTime] = rowIn(line, 7);
    if (number !== place) refuse(line, `customer ${place} expected, ${number} found`);
    if (to! < from!) refuse(line, `the window ends at ${to}, before it begins at ${from}`);
    const times = { from: scaled(from!, convention), to: scaled(to!, convention) };
    return { x: x!, y: y!, demand: demand!, ...times, serviceTime: scaled(serviceTime!, convention) };
  });
  const depot = rows[0];
  if (depot === undefined || rows.length < 2) refuse(last, "a depot and at least one customer expected");
  const distance = distancesBetween(rows, convention);
  return {
    name: lines[0]!.text,
    family: rows.length - 1 > mostStopsOfSolomon ? "homberger" : "solomon",
    places: rows.length,
    distance,
    duration: distance,
    stops: rows.slice(1).map(({ demand, from, to, serviceTime }, stop): RoutingStop => {
      return { place: stop + 1, demand, serviceTime, from, to, release: 0, prize: undefined };
    }),
    vehicles: [
      {
        count: count!,
        startPlace: 0,
        endPlace: 0,
        capacity: capacity!,
        fixedCost: 0,
        unitCost: 1,
        from: depot.from,
        to: depot.to,
        maxDuration: Infinity,
        allowed: null,
        reloads: false,
      },
    ],
  };
}
