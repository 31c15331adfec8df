import type { Order } from "../../../shared/model/order.ts";
import { localDateTimeSchema } from "../../../shared/model/quantities.ts";
import { wrapped } from "../../../shared/plan/textTable.ts";
import { BadInput, exitCodes, print, printJson } from "../output.ts";
import { casesOf, caseWords, nothingLeftWords, type Question } from "./question.ts";

/** Whether the order is open at a local time. The answer is no when none of the kinds of aircraft may work any of its ground then. */
export function tellMinute(question: Question, order: Order, at: string): number {
  const { calendar, agronomy } = question;
  const min = minuteOf(question, at);
  const answers = casesOf(question, order).map((one) => ({
    one,
    open: one.never.length === 0 && agronomy.judge(order, one.type, min, one.night).length === 0,
    sentence: agronomy.why(order, one.type, min, one.night),
  }));
  if (question.json) {
    printJson({
      orderId: order.id,
      at: calendar.isoOfMin(min),
      types: answers.map(({ one: { type, part, areaHa }, open, sentence }) => ({
        aircraftTypeId: type.id,
        part,
        areaHa,
        open,
        sentence,
      })),
    });
  } else {
    print(`${order.id} on ${order.fieldId}`);
    if (answers.length === 0) print(`  ${nothingLeftWords(question, order)}`);
    for (const { one, sentence } of answers) {
      print(caseWords([one.type.id], one));
      for (const line of wrapped(sentence, 2)) print(line);
    }
  }
  return answers.some(({ open }) => open) ? exitCodes.good : exitCodes.answerIsNo;
}

function minuteOf({ calendar }: Question, at: string): number {
  if (!localDateTimeSchema.safeParse(at).success) {
    throw new BadInput([`--at: ${at}; expected a local date and time that exist, as 2027-06-15T09:00`]);
  }
  const min = calendar.minOfLocal(at);
  if (min >= 0 && min < calendar.horizonMin) return min;
  const { dates } = calendar;
  throw new BadInput([`--at: ${at}; expected a time on a day of the plan, from ${dates[0]} to ${dates.at(-1)}`]);
}
