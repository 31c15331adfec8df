import type { Order } from "../../../shared/model/order.ts";
import { wrapped } from "../../../shared/plan/textTable.ts";
import { exitCodes, print, printJson } from "../output.ts";
import { type Case, casesOf, caseWords, nothingLeftWords, type Question } from "./question.ts";
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
  for (const line of cases.length === 0 ? [`  ${nothingLeftWords(question, order)}`] : legendLines) print(line);

  // Kinds of aircraft with the same week are told once.
  const told = new Map<
    string,
    { readonly lines: readonly string[]; readonly typeIds: string[]; readonly first: Case }
  >();
  for (const one of cases) {
    const lines = caseLines(question, order, one);
    const key = [one.part, ...lines].join("\n");
    const before = told.get(key);
    if (before === undefined) told.set(key, { lines, typeIds: [one.type.id], first: one });
    else before.typeIds.push(one.type.id);
  }
  for (const { lines, typeIds, first } of told.values()) {
    print(`\n${caseWords(typeIds, first)}`);
    for (const line of lines) print(line);
  }
  return exitCodes.good;
}

function caseLines({ agronomy, calendar }: Question, order: Order, { type, night, never }: Case): string[] {
  if (never.length > 0) return wrapped(`never: ${never.join("; ")}`, 2);
  const clash = agronomy.clash(order, type, night);
  return [
    ...(clash === undefined ? [] : wrapped(clash.sentence, 2)),
    ...weekLines(calendar, agronomy.hours(order, type, night), (min) => agronomy.judge(order, type, min, night)),
  ];
}

function caseFacts({ agronomy, calendar }: Question, order: Order, { type, part, areaHa, night, never }: Case) {
  return {
    aircraftTypeId: type.id,
    part,
    areaHa,
    never,
    clash: agronomy.clash(order, type, night) ?? null,
    windows: agronomy.windows(order, type, night).windows.map(({ startMin, endMin }) => ({
      from: calendar.isoOfMin(startMin),
      to: calendar.isoOfMin(endMin),
    })),
    hours: agronomy.hours(order, type, night).map(({ startMin, endMin: _, ...hour }) => ({
      from: calendar.isoOfMin(startMin),
      ...hour,
    })),
  };
}
