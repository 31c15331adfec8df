import { writeFile } from "node:fs/promises";
import { featureLines } from "../scenario/write.ts";
import { BadInput, loadScenario, named, remark } from "./output.ts";
import { createWorks } from "./worktime/orderWork.ts";
import { outfitNamed } from "./worktime/outfit.ts";
import { passFeatures } from "./worktime/passes.ts";
import { tellBrochure } from "./worktime/tellBrochure.ts";
import { tellOrder } from "./worktime/tellOrder.ts";

export interface WorktimeOptions {
  readonly order?: string;
  /** Ids of aircraft, chargers and one tender, parted by commas. */
  readonly outfit?: string;
  /** File for the passes as GeoJSON. */
  readonly passes?: string;
  readonly brochure?: boolean;
  readonly json?: boolean;
}

export async function worktimeVerb(dir: string, options: WorktimeOptions): Promise<number> {
  const orderId = orderAsked(options);
  const works = createWorks(await loadScenario(dir));
  const json = options.json === true;
  if (orderId === undefined) return tellBrochure(works, json);

  const work = works.of(named(works.operation.orders, "order", orderId));
  if (work.treated.areaHa === 0) {
    const { sentence } = work.limits[0]!;
    throw new BadInput([`order ${orderId}: ${sentence}; expected ground to work`]);
  }
  const answers = work.everyAnswer();
  const main = options.outfit === undefined ? answers[0] : work.answer(outfitNamed(works, options.outfit));
  if (main === undefined) throw new BadInput([`order ${orderId}: no crew of ${dir} can form an outfit`]);
  if (options.passes !== undefined) {
    if (main.ok) await write(options.passes, featureLines(passFeatures(work.treated.plane, main)));
    else remark(`--passes ${options.passes}: not written, the outfit cannot do the order`);
  }
  return tellOrder(work, main, answers, json);
}

/** One order or, with --brochure, none of them in particular. */
function orderAsked({ order, outfit, passes, brochure }: WorktimeOptions): string | undefined {
  if (!brochure) {
    if (order === undefined) throw new BadInput(["worktime: expected --order or --brochure"]);
    return order;
  }
  const beside = Object.entries({ order, outfit, passes }).find(([, value]) => value !== undefined);
  if (beside !== undefined) {
    throw new BadInput([`--brochure and --${beside[0]}: expected one of them; --brochure tells of all orders`]);
  }
  return undefined;
}

async function write(file: string, text: string): Promise<void> {
  try {
    await writeFile(file, text);
  } catch (error) {
    throw new BadInput([
      `--passes ${file}: ${(error as Error).message}; expected a file in a folder that can be written`,
    ]);
  }
}
