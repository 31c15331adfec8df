import type { StopView } from "../../../shared/plan/weekOrders.ts";
import type { CrewDayView, DayView, SpanView } from "../../../shared/plan/weekView.ts";
import { svg } from "./dom.ts";
import { type HourRange, hoursOnDate, percentOf } from "./hours.ts";

const stripHeight = 34;
const hourStep = 2;

/** A crew's day as a strip of hours: dark before sunrise and after sunset, the drives as a line, each stop as a bar, cut by its pauses. */
export function crewDayStrip(day: DayView, crewDay: CrewDayView | null, range: HourRange): SVGSVGElement {
  const strip = svg("svg", { class: "strip", height: `${stripHeight}`, width: "100%", "aria-hidden": "true" });
  strip.append(...nights(day, range), ...hourLines(range));
  if (crewDay === null) return strip;
  const position = positions(day.date, range);
  for (const span of crewDay.spans) {
    if (span.kind !== "work") strip.append(spanMark(span, position(span)));
  }
  for (const { end, pauses, start } of crewDay.stops) {
    if (pauses.length > 0) strip.append(spanMark({ kind: "wait", start, end }, position({ start, end })));
  }
  strip.append(
    ...crewDay.stops.flatMap((stop, index) =>
      stretchesOf(stop).map((stretch) => stopBar(stop, `${index + 1}`, stretch, position(stretch))),
    ),
  );
  return strip;
}

/** The hours written over the strips of a day. */
export function hourScale(range: HourRange): SVGSVGElement {
  const scale = svg("svg", { class: "hourScale", height: "20", width: "100%", "aria-hidden": "true" });
  for (let hour = range.fromHour + hourStep; hour < range.toHour; hour += hourStep) {
    const clock = `${String(((hour % 24) + 24) % 24).padStart(2, "0")}:00`;
    const isBetween = (hour - range.fromHour) % (2 * hourStep) !== 0;
    scale.append(
      svg(
        "text",
        { class: isBetween ? "between" : "", x: `${percentOf(hour, range)}%`, y: "15", "text-anchor": "middle" },
        clock,
      ),
    );
  }
  return scale;
}

type Stretch = Pick<StopView, "start" | "end">;

/** The stop's work without its pauses. */
function stretchesOf({ end, pauses, start }: StopView): Stretch[] {
  const starts = [start, ...pauses.map((pause) => pause.end)];
  const ends = [...pauses.map((pause) => pause.start), end];
  return starts.map((from, at) => ({ start: from, end: ends[at]! }));
}

interface Place {
  readonly x: number;
  readonly width: number;
}

function positions(date: string, range: HourRange) {
  return ({ start, end }: Pick<SpanView, "start" | "end">): Place => {
    const x = percentOf(hoursOnDate(start, date), range);
    return { x, width: percentOf(hoursOnDate(end, date), range) - x };
  };
}

function nights({ date, sunrise, sunset }: DayView, range: HourRange): SVGElement[] {
  if (sunrise === null || sunset === null) return [];
  const up = percentOf(hoursOnDate(sunrise, date), range);
  const down = percentOf(hoursOnDate(sunset, date), range);
  return [
    svg("rect", { class: "night", x: "0", y: "0", width: `${up}%`, height: `${stripHeight}` }),
    svg("rect", { class: "night", x: `${down}%`, y: "0", width: `${100 - down}%`, height: `${stripHeight}` }),
  ];
}

function hourLines(range: HourRange): SVGElement[] {
  const lines: SVGElement[] = [];
  for (let hour = range.fromHour + hourStep; hour < range.toHour; hour += hourStep) {
    const x = `${percentOf(hour, range)}%`;
    lines.push(svg("line", { class: "hourLine", x1: x, x2: x, y1: "0", y2: `${stripHeight}` }));
  }
  return lines;
}

function spanMark({ kind }: SpanView, { x, width }: Place): SVGElement {
  const middle = stripHeight / 2;
  if (kind === "drive" || kind === "wait") {
    const line = { x1: `${x}%`, x2: `${x + width}%`, y1: `${middle}`, y2: `${middle}` };
    return svg("line", { class: kind, ...line });
  }
  return svg("rect", { class: "groundWork", x: `${x}%`, width: `${width}%`, y: `${middle - 5}`, height: "10" });
}

/** Our choice: shares of the strip under which a number has no room, on a phone and on a wide screen. */
const narrowPercent = 5.5;
const tinyPercent = 2;

function roomOf(width: number): string {
  if (width < tinyPercent) return "tiny";
  return width < narrowPercent ? "narrow" : "roomy";
}

/** A nested picture, so that the number starts where the bar does; what it stands for is listed under the strip. */
function stopBar(stop: StopView, number: string, { end, start }: Stretch, { x, width }: Place): SVGElement {
  return svg(
    "svg",
    {
      class: `stop ${stop.method} ${roomOf(width)}`,
      x: `${x}%`,
      width: `${width}%`,
      y: "2",
      height: `${stripHeight - 4}`,
    },
    svg("rect", { class: "stopBar", x: "0", y: "0", width: "100%", height: "100%" }),
    svg("rect", { class: "stopSign", x: "0", y: "0", width: "5", height: "100%" }),
    svg("text", { x: "7", y: "20" }, number),
    svg("title", {}, `${stop.fieldName}, ${start.clock} to ${end.clock}`),
  );
}
