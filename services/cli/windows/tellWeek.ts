import { withClock } from "../../../shared/agronomy/clockSpan.ts";
import { hoursUnder } from "../../../shared/agronomy/windows.ts";
import type { Order } from "../../../shared/model/order.ts";
import { wrapped } from "../../../shared/plan/textTable.ts";
import { exitCodes, print, printJson } from "../output.ts";
import { type Case, casesOf, nightLines, type Question, toldOf } from "./question.ts";
import { legendLines, weekLines } from "./weekText.ts";

/** The week of one order, for every kind of aircraft and part of the ground. */
export function tellWeek(question: Question, order: Order): number {
  const { operation } = question;
  const cases = casesOf(question, order);
  if (question.json) {
    const types = cases.map((one) => caseFacts(question, order, one));
    printJson({ orderId: order.id, fieldId: order.fieldId, types });
    return exitCodes.good;
  }
  const field = operation.fields.features.find(({ properties }) => properties.id === order.fieldId)!.properties;
  const products = order.products.map(({ productId }) => operation.products.find(({ id }) => id === productId)!.name);
  print(`${order.id}: ${products.join(" + ")} on ${field.name} (${field.id}, ${field.crop})`);
  print(`  from ${order.earliest.replace("T", " ")} to ${order.latest.replace("T", " ")}`);
  if (cases.some(({ limits }) => limits.length === 0)) for (const line of legendLines) print(line);
  for (const line of nightLines(question, question.types)) print(line);
  for (const { heading, lines } of toldOf(cases, (one) => caseLines(question, order, one))) {
    print(`\n${heading}`);
    for (const line of lines) print(line);
  }
  return exitCodes.good;
}

function caseLines(question: Question, order: Order, one: Case): string[] {
  const { agronomy, calendar } = question;
  const { type, night, limits } = one;
  if (limits.length > 0) return wrapped(`never: ${limits.map(({ sentence }) => sentence).join("; ")}`, 2);
  const clash = agronomy.clash(order, type, night);
  return [
    ...(clash === undefined ? [] : wrapped(clash.sentence, 2)),
    ...weekLines(calendar, agronomy.hours(order, type, night), (min) => agronomy.judge(order, type, min, night)),
  ];
}

function caseFacts({ agronomy, calendar }: Question, order: Order, { type, part, areaHa, night, limits }: Case) {
  const { windows, lostMin } = agronomy.windows(order, type, night);
  return {
    aircraftTypeId: type.id,
    part,
    areaHa,
    limits,
    clash: agronomy.clash(order, type, night) ?? null,
    windows: (limits.length > 0 ? [] : windows).map((window) => withClock(calendar, window)),
    lostMin,
    hours: hoursUnder(limits, agronomy.hours(order, type, night)).map((hour) => withClock(calendar, hour)),
  };
}
