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
  /** Battery sets that are full when the work begins. */
  readonly full?: number;
  /** File for the passes as GeoJSON. */
  readonly passes?: string;
  readonly brochure?: boolean;
  /** With the brochure: an aircraft type. */
  readonly type?: string;
  readonly json?: boolean;
}

export async function worktimeVerb(dir: string, options: WorktimeOptions): Promise<number> {
  const orderId = orderAsked(options);
  const works = createWorks(await loadScenario(dir), options.full);
  const json = options.json === true;
  if (orderId === undefined) {
    const { type } = options;
    return tellBrochure(
      works,
      type === undefined ? undefined : named(works.operation.fleet.aircraftTypes, "aircraft type", type),
      json,
    );
  }

  const work = works.of(named(works.operation.orders, "order", orderId));
  const answers = work.everyAnswer();
  const outfit = options.outfit === undefined ? undefined : outfitNamed(works, options.outfit);
  const main = outfit === undefined || work.treated.areaHa === 0 ? answers[0] : work.answer(outfit);
  if (options.passes !== undefined) {
    if (main?.ok) await write(options.passes, featureLines(passFeatures(work.treated.plane, main)));
    else remark(`--passes ${options.passes}: not written, the order cannot be done`);
  }
  return tellOrder(work, main, answers, json);
}

/** One order or, with --brochure, none of them in particular. */
function orderAsked({ order, outfit, full, passes, brochure, type }: WorktimeOptions): string | undefined {
  if (!brochure) {
    if (order === undefined) throw new BadInput(["worktime: expected --order or --brochure"]);
    if (type !== undefined)
      throw new BadInput(["--type: expected with --brochure; --outfit names the aircraft of an order"]);
    return order;
  }
  const beside = Object.entries({ order, outfit, full, passes }).find(([, value]) => value !== undefined);
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
