import { createAgronomy } from "../../shared/agronomy/agronomy.ts";
import { createCalendar } from "../../shared/model/calendar.ts";
import type { Order } from "../../shared/model/order.ts";
import { caution } from "../../shared/plan/caution.ts";
import { wrapped } from "../../shared/plan/textTable.ts";
import { BadInput, loadScenario, named, print } from "./output.ts";
import type { Question } from "./windows/question.ts";
import { tellLost } from "./windows/tellLost.ts";
import { tellMinute } from "./windows/tellMinute.ts";
import { tellSummary } from "./windows/tellSummary.ts";
import { tellWeek } from "./windows/tellWeek.ts";

export interface WindowsOptions {
  readonly order?: string;
  readonly type?: string;
  /** A local date and time: is the order open then, and why not? */
  readonly at?: string;
  readonly lost?: boolean;
  readonly night?: boolean;
  readonly json?: boolean;
}

export async function windowsVerb(dir: string, options: WindowsOptions): Promise<number> {
  if (options.lost && options.at !== undefined) throw new BadInput(["--lost and --at: expected one of them"]);
  if (options.at !== undefined && options.order === undefined) {
    throw new BadInput(["--at asks of one order; expected --order too"]);
  }
  const operation = await loadScenario(dir);
  const calendar = createCalendar(operation.settings);
  const { aircraftTypes } = operation.fleet;
  const question: Question = {
    operation,
    calendar,
    agronomy: createAgronomy(operation, calendar),
    types: options.type === undefined ? aircraftTypes : [named(aircraftTypes, "aircraft type", options.type)],
    night: { night: options.night === true },
    json: options.json === true,
  };
  const order = options.order === undefined ? undefined : named(operation.orders, "order", options.order);
  const code = answer(question, order, options);
  if (!question.json) for (const line of ["", ...wrapped(caution, 0)]) print(line);
  return code;
}

function answer(question: Question, order: Order | undefined, { at, lost }: WindowsOptions): number {
  if (lost) return tellLost(question, order === undefined ? question.operation.orders : [order]);
  if (order === undefined) return tellSummary(question);
  return at === undefined ? tellWeek(question, order) : tellMinute(question, order, at);
}
