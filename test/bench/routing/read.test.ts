import { mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, describe, expect, it } from "vitest";
import { readInstance } from "./readInstance.ts";
import { readSolution } from "./readSolution.ts";

const folder = mkdtempSync(join(tmpdir(), "calmhour-routing-"));
afterAll(() => rmSync(folder, { recursive: true }));

function written(name: string, text: string): string {
  const path = join(folder, name);
  writeFileSync(path, text);
  return path;
}

const solomonText = `tiny

VEHICLE
NUMBER     CAPACITY
  3         20

CUSTOMER
CUST NO.  XCOORD.   YCOORD.    DEMAND   READY TIME  DUE DATE   SERVICE   TIME

    0      0         0          0          0        100          0
    1      1         1          7         10         20          5
    2      0         2          8         30         40          6
`;

const vrplibText = `NAME: tiny
TYPE : MDVRPTW
EDGE_WEIGHT_TYPE: EUC_2D
DIMENSION: 4
VEHICLES: 3
CAPACITY: 20
SERVICE_TIME: 5
NODE_COORD_SECTION
1 0 0
2 9 9
3 1 1
4 0.0004 2
DEMAND_SECTION
1 0
2 0
3 7
4 8
TIME_WINDOW_SECTION
1 0 100
2 0 90
3 10 20
4 30 40
VEHICLES_DEPOT_SECTION
1 1
2 2
3 2
VEHICLES_ALLOWED_CLIENTS_SECTION
1 3 4
2 4
3 4
DEPOT_SECTION
1
2
EOF
`;

const solutionText = `Route #1: 2 3
Route #2:
Route #3: 3
Cost: 12345
`;

describe("reading a routing instance", () => {
  it("reads the format of Solomon, arcs cut off in tenths", () => {
    const { distance, stops, vehicles, family } = readInstance(written("tiny.txt", solomonText));
    // The root of 2 is 1.41...; from stop 1 at (1, 1) to stop 2 at (0, 2) too.
    expect([...distance]).toEqual([0, 14, 20, 14, 0, 14, 20, 14, 0]);
    expect(family).toBe("solomon");
    expect(stops[1]).toEqual({
      place: 2,
      demand: 8,
      serviceTime: 60,
      from: 300,
      to: 400,
      release: 0,
      prize: undefined,
    });
    expect(vehicles).toMatchObject([{ count: 3, capacity: 20, from: 0, to: 1000, unitCost: 1, fixedCost: 0 }]);
  });

  it("reads it with real distances for counting vehicles", () => {
    const { distance, stops } = readInstance(written("tiny.txt", solomonText), "vehicles");
    expect(distance[1]).toBe(Math.sqrt(2));
    expect(stops[0]).toMatchObject({ serviceTime: 5, from: 10, to: 20 });
  });

  it("reads the VRPLIB dialect, arcs rounded to thousandths, vehicles put together", () => {
    const { distance, stops, vehicles, family } = readInstance(written("tiny.vrp", vrplibText));
    expect(family).toBe("depots");
    expect([...distance.slice(0, 4)]).toEqual([0, 12728, 1414, 2000]);
    expect(stops).toMatchObject([
      { place: 2, demand: 7, serviceTime: 5000, from: 10_000, to: 20_000 },
      { place: 3, demand: 8, serviceTime: 5000, from: 30_000, to: 40_000 },
    ]);
    expect(vehicles).toMatchObject([
      { count: 1, startPlace: 0, endPlace: 0, to: 100_000, allowed: Uint8Array.of(1, 1) },
      { count: 2, startPlace: 1, endPlace: 1, to: 90_000, allowed: Uint8Array.of(0, 1) },
    ]);
  });

  it("gives each route of a solution to its vehicle and leaves empty ones out", () => {
    const instance = readInstance(written("tiny.vrp", vrplibText));
    expect(readSolution(written("tiny.sol", solutionText), instance)).toEqual({
      cost: 12345,
      costStep: 1,
      tours: [
        { vehicle: 0, trips: [[0, 1]] },
        { vehicle: 1, trips: [[1]] },
      ],
    });
    const trips = readSolution(written("trips.sol", "Route #1: 3 0 2\nCost: 1\n"), instance).tours[0]?.trips;
    expect(trips).toEqual([[1], [0]]);
  });

  it("takes a cost of Solomon's format in tenths", () => {
    const instance = readInstance(written("tiny.txt", solomonText));
    expect(readSolution(written("tiny.sol", "Route #1: 1 2\nCost 827.3\n"), instance).cost).toBe(8273);
  });
});

describe("a broken file is refused by file and line", () => {
  const solomonCases: readonly [string, string, string][] = [
    ["    1      1         1          7", "    1      1         x          7", 'line 11: "x" is not a number'],
    ["         20          5\n", "         20\n", "line 11: 7 numbers expected, 6 found"],
    ["    2      0 ", "    3      0 ", "line 12: customer 2 expected, 3 found"],
    ["30         40", "30         29", "line 12: the window ends at 29, before it begins at 30"],
    ["  3         20\n", "  3\n", "line 5: 2 numbers expected, 1 found"],
    ["NUMBER     CAPACITY", "NUMBERS", "line 12: nothing like ^NUMBER\\s+CAPACITY$ up to the end"],
  ];
  it.each(solomonCases)("Solomon's format: %j as %j", (whole, broken, message) => {
    expect(solomonText).toContain(whole);
    const path = written("broken.txt", solomonText.replace(whole, broken));
    expect(() => readInstance(path)).toThrow(new Error(`${path}, ${message}`));
  });

  it("an empty file", () => {
    const path = written("empty.txt", "\n \n");
    expect(() => readInstance(path)).toThrow(new Error(`${path}, line 1: the file is empty`));
  });

  const vrplibCases: readonly [string, string, string][] = [
    ["MDVRPTW", "CVRP", "line 2: the type CVRP is unknown"],
    ["EUC_2D", "GEO", "line 3: distances of the type GEO are unknown"],
    ["DIMENSION: 4", "DIMENSION: 5", "line 8: NODE_COORD has 4 rows, 5 expected"],
    ["DIMENSION: 4", "DIMENSION: four", 'line 4: DIMENSION is not a number of things: "four"'],
    ["CAPACITY: 20", "CAPACITY: 20 30", "line 6: CAPACITY: one number expected"],
    ["CAPACITY: 20\n", "", "line 33: no CAPACITY up to the end"],
    ["3 1 1", "3 1 1 1", "line 11: NODE_COORD: 3 numbers expected, 4 found"],
    ["2 0\n3 7", "3 7\n3 7", "line 15: DEMAND: row 2 expected, 3 found"],
    ["3 10 20", "3 10 2O", 'line 21: "2O" is not a number'],
    ["3 10 20", "3 20 10", "line 21: the window ends at 10, before it begins at 20"],
    ["2 2\n3 2", "2 3\n3 2", "line 25: there is no depot 3"],
    ["1 3 4", "1 3 5", "line 28: 5 is no client"],
    ["DEPOT_SECTION\n1\n2", "DEPOT_SECTION\n1\n3", "line 33: the depots must be the first places, 3 found"],
    ["DEMAND_SECTION", "BACKHAUL_SECTION", "line 13: the section BACKHAUL is unknown"],
    ["SERVICE_TIME: 5", "HURRY: 5", "line 7: the header HURRY is unknown"],
    ["NAME: tiny", "1 2 3", "line 1: a header or a section expected"],
  ];
  it.each(vrplibCases)("the VRPLIB dialect: %j as %j", (whole, broken, message) => {
    expect(vrplibText).toContain(whole);
    const path = written("broken.vrp", vrplibText.replace(whole, broken));
    expect(() => readInstance(path)).toThrow(new Error(`${path}, ${message}`));
  });

  const solutionCases: readonly [string, string, string][] = [
    ["#1: 2 3", "#1: 2 4", "line 1: there is no place 4"],
    ["#1: 2 3", "#1: 2 b", 'line 1: "b" is not a number'],
    ["#2:", "#3:", "line 2: route 2 expected, 3 found"],
    ["Cost", "Route #4: 2\nCost", "line 4: there is no vehicle 4"],
    ["Cost: 12345", "Cost: cheap", 'line 4: "cheap" is not a number'],
    ["Cost: 12345\n", "", "line 3: no cost up to the end"],
    ["Cost", "Price", "line 4: a route or the cost expected"],
  ];
  it.each(solutionCases)("a solution: %j as %j", (whole, broken, message) => {
    expect(solutionText).toContain(whole);
    const instance = readInstance(written("tiny.vrp", vrplibText));
    const path = written("broken.sol", solutionText.replace(whole, broken));
    expect(() => readSolution(path, instance)).toThrow(new Error(`${path}, ${message}`));
  });
});
