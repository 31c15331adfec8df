import { describe, expect, it } from "vitest";
import { createCalendar } from "../../../shared/model/calendar.ts";
import { caution } from "../../../shared/plan/caution.ts";
import { crewSheet } from "../../../shared/plan/crewSheet.ts";
import type { Plan } from "../../../shared/plan/plan.ts";
import { publishedStops } from "../../../shared/plan/published.ts";
import { crewSheetText, weekText } from "../../../shared/plan/text.ts";
import { textTable, wrapped } from "../../../shared/plan/textTable.ts";
import { weekView } from "../../../shared/plan/weekView.ts";
import { readable } from "../../../shared/plan/words.ts";
import { viewOperation, viewPlan, viewReport } from "../../support/viewPlan.ts";

const operation = viewOperation();
const plan = viewPlan(operation);
const week = weekText(weekView(operation, plan, viewReport));
const sheet = crewSheetText(crewSheet(operation, plan, "K1", "2027-03-26")!);
const inOneLine = (text: string) => text.replace(/\s+/g, " ");

function farAway(geometry: Plan["blocks"][number]["geometry"]): typeof geometry {
  const coordinates = geometry.coordinates.map((rings) =>
    rings.map((ring) => ring.map(([lonDeg, latDeg]): [number, number] => [lonDeg + 1, latDeg])),
  );
  return { ...geometry, coordinates };
}

describe("text for the command line", () => {
  it("keeps within 100 characters and ends its lines cleanly", () => {
    for (const line of `${week}${sheet}`.split("\n")) {
      expect([...line].length, line).toBeLessThanOrEqual(100);
      expect(line).toBe(line.trimEnd());
    }
  });

  it("carries the caution", () => {
    expect(inOneLine(week)).toContain(caution);
    expect(inOneLine(sheet)).toContain(caution);
  });

  it("shows the week: who, when, where, what not and why", () => {
    expect(week).toContain("Planned 32.0 of 39.0 ha (82.1 %), 2 conflicts, 43.7 km, 6 h 26 min of duty");
    expect(week).toContain(
      "    07:22-08:22  O-1 part 1 of 2  Long Acre  spray  12.0  ha  Liquid Example + Second Liquid",
    );
    expect(week).toMatch(/Sunday 2027-03-28, sun .*, the clocks go forward 60 min/);
    expect(week).toContain("O-3 Søndre Mose: buffers leave nothing to treat\n    The buffer to Hill School covers");
    expect(week).toMatch(/in all +954\.83/);
  });

  it("tells what is otherwise than published, and what is locked and cannot hold", () => {
    const calendar = createCalendar(operation.settings);
    const [first] = publishedStops(plan, calendar);
    // The hand-made week draws all blocks on one ground; here the second part of O-1 lies elsewhere.
    const blocks = plan.blocks.map((block) =>
      block.id === "O-1#2" ? { ...block, geometry: farAway(block.geometry) } : block,
    );
    const text = (change: object, brokenLocks?: Plan["brokenLocks"]) =>
      weekText(
        weekView(
          operation,
          { ...plan, blocks, published: [{ ...first!, ...change }], ...(brokenLocks && { brokenLocks }) },
          viewReport,
        ),
      );
    expect(text({})).not.toContain("Otherwise than published");
    expect(text({ crewId: "K2", date: "2027-03-27", startMin: first!.startMin + 24 * 60 })).toContain(
      "Otherwise than published\n  O-1#1 Long Acre\n    Crew 1, Friday 2027-03-26 07:22, was Crew 2, Saturday 2027-03-27 07:22\n",
    );
    expect(text({ startMin: first!.startMin + 90 })).toContain("    07:22, was Crew 1, Friday 2027-03-26 08:52\n");
    const told = text({}, [{ crewId: "K2" as never, date: "2027-03-28", blockIds: [], sentence: "T9 is out." }]);
    expect(told).toContain(
      "Locked, and cannot hold\n  Crew 2, Sunday 28 March 2027: what is locked of the day\n    T9 is out.\n",
    );
  });

  it("names every breach", () => {
    const breaches = [{ rule: "wind", sentence: "wind 21 km/h, label allows 15" }];
    const text = weekText(weekView(operation, plan, { ...viewReport, ok: false, breaches }));
    expect(text).toContain("Checker: 1 BREACH");
    expect(text).toContain("  wind: wind 21 km/h, label allows 15");
  });

  it("lines products up, and what of each goes into a load", () => {
    expect(sheet).toContain(
      [
        "  product, label number        per ha  in all",
        "  A Liquid Example, 000001-00     1 L    12 L",
        "  B Second Liquid, 000003-00   200 mL   2.4 L",
        "  loads   each   water       A       B",
        "  4 full  40 L  36.8 L  2.67 L  533 mL",
        "  1 last  20 L  18.4 L  1.33 L  267 mL",
      ].join("\n"),
    );
  });
});

describe("the crew sheet in text", () => {
  it("says the caution and what to take along before the day begins", () => {
    const places = ["A planning aid", "Products to take along", "The day", "Stop 1: Long Acre"].map((words) =>
      sheet.indexOf(words),
    );
    expect(places).toEqual([...places].sort((a, b) => a - b));
    expect(places[0]).toBeGreaterThan(0);
    expect(sheet).toMatch(/Liquid Example, 000001-00 +12 L/);
  });

  it("joins what is least and most into one row and names labels by letter", () => {
    // The small multirotor releases at the height that its fleet entry gives.
    const { releaseHeightM } = operation.fleet.aircraftTypes[0]!;
    expect(sheet).toMatch(new RegExp(`wind at ${releaseHeightM} m +3 to 12 km/h +label B`));
    expect(sheet).toMatch(/gust +at most 25 km\/h +the operation/);
    expect(sheet).toMatch(/Delta T +2 to 8 °C +label A/);
    expect(sheet).toMatch(/rain +none for 2 h after +label/);
  });

  it("names neighbours with what the label keeps from them", () => {
    expect(sheet).toMatch(/Hill School \(school\) +\d+ m east +keep 50 m when the wind blows there \(A\)/);
  });
});

describe("textTable", () => {
  it("wraps the last column under itself and counts an accented letter once", () => {
    const words = Array.from({ length: 40 }, (_, word) => `word${word}`).join(" ");
    const lines = textTable(
      [
        ["e\u0301", words],
        ["plain", "x"],
      ],
      { indent: 2, right: [] },
    );
    expect(lines.length).toBeGreaterThan(2);
    expect(lines[0]!.indexOf("word0")).toBe(10);
    expect(lines[1]!.search(/\S/)).toBe(9);
    expect(lines.at(-1)).toBe("  plain  x");
  });

  it("has no line for no row", () => {
    expect(textTable([], { indent: 0, right: [] })).toEqual([]);
  });

  it("leaves a word that is longer than the line whole", () => {
    expect(wrapped("x".repeat(120), 2)).toEqual([`  ${"x".repeat(120)}`]);
  });
});

describe("readable", () => {
  it.each([
    [1234.5, "1235"],
    [166.4, "166"],
    [87.54, "87.5"],
    [40, "40"],
    [3.25, "3.25"],
    [0.125, "0.125"],
    [0, "0"],
    [100, "100"],
  ])("%d reads %s", (value, words) => {
    expect(readable(value)).toBe(words);
  });
});
