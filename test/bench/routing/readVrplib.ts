import { type Convention, distancesBetween, scaled, tenths, thousandths } from "./conventions.ts";
import type { RoutingInstance, RoutingStop, RoutingVehicle } from "./instance.ts";
import { type Line, refuse } from "./textFile.ts";
import { columnOf, countOf, headerOf, parseVrplib, rowsOf, type VrplibFile, valuesOf } from "./vrplib.ts";

const familyOfType: Readonly<Record<string, readonly [RoutingInstance["family"], Convention]>> = {
  PCVRPTW: ["prize", tenths],
  SDVRPTW: ["sites", thousandths],
  MDVRPTW: ["depots", thousandths],
  HFVRP: ["fleet", thousandths],
  MTVRPTWR: ["reload", tenths],
};

/** The VRPLIB dialect of the five other families. Numbers in the file count places and vehicles from 1. */
export function readVrplib(lines: readonly Line[]): RoutingInstance {
  const file = parseVrplib(lines);
  const type = headerOf(file, "TYPE");
  const [family, convention] = familyOfType[type.value] ?? refuse(type.line, `the type ${type.value} is unknown`);
  const edges = headerOf(file, "EDGE_WEIGHT_TYPE");
  if (edges.value !== "EUC_2D") refuse(edges.line, `distances of the type ${edges.value} are unknown`);

  const places = countOf(file, "DIMENSION");
  const coordinates =
    valuesOf(file, "NODE_COORD", places, 2) ?? refuse(file.lastLine, "no NODE_COORD_SECTION up to the end");
  const distance = distancesBetween(
    coordinates.map(([x, y]) => ({ x: x!, y: y! })),
    convention,
  );
  const depots = depotsOf(file);
  const windows = windowsOf(file, places, convention);
  return {
    name: headerOf(file, "NAME").value,
    family,
    places,
    distance,
    duration: distance,
    stops: stopsOf(file, places, depots, windows, convention),
    vehicles: grouped(vehiclesOf(file, places, depots, windows, convention)),
  };
}

interface Window {
  readonly from: number;
  readonly to: number;
}

/** How many: they are the first places. A file that names none has one. */
function depotsOf(file: VrplibFile): number {
  const section = file.sections.get("DEPOT");
  if (section === undefined) return 1;
  // Some files end the list with a -1.
  const rows = section.rows.filter(({ numbers }) => numbers[0] !== -1);
  rows.forEach(({ line, numbers }, index) => {
    if (numbers[0] !== index + 1) refuse(line, `the depots must be the first places, ${numbers[0]} found`);
  });
  return rows.length > 0 ? rows.length : refuse(section.heading, "no depot");
}

function windowsOf(file: VrplibFile, places: number, convention: Convention): Window[] {
  const rows = rowsOf(file, "TIME_WINDOW", places);
  if (rows === undefined) return Array(places).fill({ from: 0, to: Infinity });
  return rows.map(({ line, numbers: [, from, to, ...rest] }) => {
    if (from === undefined || to === undefined || rest.length > 0)
      refuse(line, "a place, a beginning, an end expected");
    if (to < from) refuse(line, `the window ends at ${to}, before it begins at ${from}`);
    return { from: scaled(from, convention), to: scaled(to, convention) };
  });
}

function stopsOf(
  file: VrplibFile,
  places: number,
  depots: number,
  windows: readonly Window[],
  convention: Convention,
): RoutingStop[] {
  const demand = columnOf(file, "DEMAND", places) ?? refuse(file.lastLine, "no DEMAND_SECTION up to the end");
  const serviceTime = columnOf(file, "SERVICE_TIME", places);
  const release = columnOf(file, "RELEASE_TIME", places);
  const prize = columnOf(file, "PRIZE", places);
  const at = (column: readonly number[] | undefined, place: number) => scaled(column?.[place] ?? 0, convention);
  return windows.slice(depots).map((window, stop) => {
    const place = depots + stop;
    return {
      place,
      demand: demand[place]!,
      serviceTime: at(serviceTime, place),
      from: window.from,
      to: window.to,
      release: at(release, place),
      prize: prize === undefined ? undefined : at(prize, place),
    };
  });
}

function vehiclesOf(
  file: VrplibFile,
  places: number,
  depots: number,
  windows: readonly Window[],
  convention: Convention,
): RoutingVehicle[] {
  const count = countOf(file, "VEHICLES");
  const capacity = columnOf(file, "CAPACITY", count) ?? refuse(file.lastLine, "no CAPACITY up to the end");
  const depot = depotColumn(file, "VEHICLES_DEPOT", count, depots);
  const reloadDepot = depotColumn(file, "VEHICLES_RELOAD_DEPOT", count, depots);
  const fixedCost = columnOf(file, "VEHICLES_FIXED_COST", count);
  const unitCost = columnOf(file, "VEHICLES_UNIT_DISTANCE_COST", count);
  const maxDuration = columnOf(file, "VEHICLES_MAX_DURATION", count);
  const allowed = rowsOf(file, "VEHICLES_ALLOWED_CLIENTS", count)?.map(({ line, numbers: [, ...clients] }) => {
    const flags = new Uint8Array(places - depots);
    for (const client of clients) {
      const stop = client - 1 - depots;
      if (flags[stop] === undefined) refuse(line, `${client} is no client`);
      flags[stop] = 1;
    }
    return flags;
  });
  return capacity.map((load, vehicle) => {
    const startPlace = depot?.[vehicle] ?? 0;
    if (reloadDepot !== undefined && reloadDepot[vehicle] !== startPlace) {
      refuse(
        file.sections.get("VEHICLES_RELOAD_DEPOT")!.heading,
        "a vehicle that fills up elsewhere than at its start",
      );
    }
    const duration = maxDuration?.[vehicle];
    return {
      count: 1,
      startPlace,
      endPlace: startPlace,
      capacity: load,
      fixedCost: scaled(fixedCost?.[vehicle] ?? 0, convention),
      unitCost: unitCost?.[vehicle] ?? 1,
      from: windows[startPlace]!.from,
      to: windows[startPlace]!.to,
      maxDuration: duration === undefined ? Infinity : scaled(duration, convention),
      allowed: allowed?.[vehicle] ?? null,
      reloads: reloadDepot !== undefined,
    };
  });
}

/** The depot of each vehicle as a place. */
function depotColumn(file: VrplibFile, name: string, count: number, depots: number): number[] | undefined {
  return rowsOf(file, name, count)?.map(({ line, numbers: [, depot, ...rest] }) => {
    if (depot === undefined || rest.length > 0) refuse(line, "a vehicle and its depot expected");
    return depot >= 1 && depot <= depots ? depot - 1 : refuse(line, `there is no depot ${depot}`);
  });
}

/** Only neighbours are put together, so that the n-th route of a solution still finds its vehicle by counting. */
function grouped(vehicles: readonly RoutingVehicle[]): RoutingVehicle[] {
  const groups: RoutingVehicle[] = [];
  for (const vehicle of vehicles) {
    const before = groups.at(-1);
    if (before !== undefined && areAlike(before, vehicle)) {
      groups[groups.length - 1] = { ...before, count: before.count + 1 };
    } else {
      groups.push(vehicle);
    }
  }
  return groups;
}

function areAlike(a: RoutingVehicle, b: RoutingVehicle): boolean {
  const { count: _, allowed: allowedA, ...restA } = a;
  const { count: __, allowed: allowedB, ...restB } = b;
  const sameStops = allowedA === null ? allowedB === null : allowedA.every((flag, stop) => flag === allowedB?.[stop]);
  return sameStops && (Object.keys(restA) as (keyof typeof restA)[]).every((key) => restA[key] === restB[key]);
}
