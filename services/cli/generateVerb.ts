import { readdir } from "node:fs/promises";
import { formatFault } from "../scenario/faults.ts";
import { generateOperation } from "../scenario/generate/generateOperation.ts";
import { writeScenario } from "../scenario/write.ts";
import { BadInput, exitCodes, print, printJson } from "./output.ts";

export interface GenerateOptions {
  readonly orders: number;
  readonly crews: number;
  readonly days: number;
  readonly seed: number;
  readonly firstDay?: string;
  readonly json?: boolean;
}

export async function generateVerb(out: string, { json, firstDay, ...request }: GenerateOptions): Promise<number> {
  const standing = await readdir(out).catch(() => []);
  if (standing.length > 0) throw new BadInput([`${out} holds ${standing[0]}; expected a new or an empty folder`]);
  const operation = generateOperation({ ...request, ...(firstDay === undefined ? {} : { firstDay }) });
  const written = await writeScenario(out, operation);
  if (!written.ok)
    throw new BadInput([`${out} was not written:`, ...written.faults.map((fault) => `  ${formatFault(fault)}`)]);
  const counts = {
    folder: out,
    fields: operation.fields.features.length,
    orders: operation.orders.length,
    crews: operation.fleet.crews.length,
    aircraft: operation.fleet.aircraft.length,
    days: operation.settings.days,
  };
  if (json) printJson(counts);
  else {
    print(
      `${out}: ${counts.fields} fields, ${counts.orders} orders, ${counts.crews} crews, ${counts.aircraft} aircraft, ${counts.days} days`,
    );
  }
  return exitCodes.good;
}
