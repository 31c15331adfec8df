import type { Judgement } from "../../../shared/agronomy/limits.ts";
import { hoursUnder } from "../../../shared/agronomy/windows.ts";
import type { Order } from "../../../shared/model/order.ts";
import { wrapped } from "../../../shared/plan/textTable.ts";
import { exitCodes, print, printJson } from "../output.ts";
import { type Case, casesOf, type Question, toldOf } from "./question.ts";
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
  for (const { heading, lines } of toldOf(cases, (one) => caseLines(question, order, one))) {
    print(`\n${heading}`);
    for (const line of lines) print(line);
  }
  return exitCodes.good;
}

function caseLines({ agronomy, calendar }: Question, order: Order, { type, night, limits }: Case): string[] {
  if (limits.length > 0) return wrapped(`never: ${sentencesOf(limits).join("; ")}`, 2);
  const clash = agronomy.clash(order, type, night);
  return [
    ...(clash === undefined ? [] : wrapped(clash.sentence, 2)),
    ...weekLines(calendar, agronomy.hours(order, type, night), (min) => agronomy.judge(order, type, min, night)),
  ];
}

function caseFacts({ agronomy, calendar }: Question, order: Order, { type, part, areaHa, night, limits }: Case) {
  const { windows } = agronomy.windows(order, type, night);
  const hours = hoursUnder(limits, agronomy.hours(order, type, night));
  return {
    aircraftTypeId: type.id,
    part,
    areaHa,
    never: sentencesOf(limits),
    clash: agronomy.clash(order, type, night) ?? null,
    windows: (limits.length > 0 ? [] : windows).map(({ startMin, endMin }) => ({
      from: calendar.isoOfMin(startMin),
      to: calendar.isoOfMin(endMin),
    })),
    hours: hours.map(({ startMin, endMin: _, ...hour }) => ({ from: calendar.isoOfMin(startMin), ...hour })),
  };
}

function sentencesOf(judgements: readonly Judgement[]): string[] {
  return judgements.map(({ sentence }) => sentence);
}
