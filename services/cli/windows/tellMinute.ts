import { readingsOf, shownTimeWords } from "../../../shared/model/clockReadings.ts";
import type { Order } from "../../../shared/model/order.ts";
import { localDateTimeSchema } from "../../../shared/model/quantities.ts";
import { wrapped } from "../../../shared/plan/textTable.ts";
import { BadInput, exitCodes, print, printJson } from "../output.ts";
import { type Case, casesOf, nightLines, type Question, toldOf } from "./question.ts";

/**
 * Whether the order is open at a local time; one that the clocks show twice is answered for both times. The answer is no when at either of them none of the kinds
 * of aircraft may work any of its ground.
 */
export function tellMinute(question: Question, order: Order, at: string): number {
  const { calendar, agronomy } = question;
  const cases = casesOf(question, order);
  const readings = minutesOf(question, at);
  const judge = ({ type, night, limits }: Case, min: number) => [...limits, ...agronomy.judge(order, type, min, night)];
  const isOpen = (one: Case, min: number) => judge(one, min).length === 0;
  const sentenceOf = ({ type, night }: Case, min: number) => agronomy.why(order, type, min, night);
  if (question.json) {
    const [first, second] = readings.map((min) => ({
      at: calendar.isoOfMin(min),
      types: cases.map((one) => ({
        aircraftTypeId: one.type.id,
        part: one.part,
        areaHa: one.areaHa,
        open: isOpen(one, min),
        judgements: judge(one, min),
        sentence: sentenceOf(one, min),
      })),
    }));
    printJson({ orderId: order.id, ...first, alsoAt: second ?? null });
  } else {
    print(`${order.id} on ${order.fieldId}`);
    for (const line of nightLines(question, question.types)) print(line);
    if (readings.length > 1) print(`  the clocks show ${at.replace("T", " ")} twice; both times are answered`);
    const linesOf = (one: Case) => [...readings.flatMap((min) => wrapped(sentenceOf(one, min), 2))];
    for (const { heading, lines } of toldOf(cases, linesOf)) for (const line of [heading, ...lines]) print(line);
  }
  return readings.every((min) => cases.some((one) => isOpen(one, min))) ? exitCodes.good : exitCodes.answerIsNo;
}

function minutesOf({ calendar }: Question, at: string): number[] {
  if (!localDateTimeSchema.safeParse(at).success) {
    throw new BadInput([`--at: ${at}; expected a local date and time that exist, as 2027-06-15T09:00`]);
  }
  const readings = readingsOf(calendar, at);
  if (readings.length === 0) throw new BadInput([`--at: ${at}; expected ${shownTimeWords(calendar, at)}`]);
  if (readings.every((min) => min >= 0 && min < calendar.horizonMin)) return readings;
  const { dates } = calendar;
  throw new BadInput([`--at: ${at}; expected a time on a day of the plan, from ${dates[0]} to ${dates.at(-1)}`]);
}
