import { writeFile } from "node:fs/promises";
import { createAgronomy } from "../../../shared/agronomy/agronomy.ts";
import { createCalendar } from "../../../shared/model/calendar.ts";
import type { Operation } from "../../../shared/model/operation.ts";
import { compileProblem } from "../../solver/compile.ts";
import { describeProblem } from "../../solver/outside/describeProblem.ts";
import { remark } from "../output.ts";

/** Write what the search works on, for other solvers. */
export async function exportProblem(operation: Operation, file: string): Promise<void> {
  const calendar = createCalendar(operation.settings);
  const described = describeProblem(compileProblem(operation, calendar, createAgronomy(operation, calendar)));
  await writeFile(file, `${JSON.stringify(described)}\n`);
  const { blocks, slots, outfits } = described;
  remark(`${file}: ${blocks.length} blocks, ${slots.length} crew-days, ${outfits.length} outfits`);
}
