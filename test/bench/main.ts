import { Command } from "commander";
import { benchPlans } from "./plans.ts";

const bench = new Command("bench").description(
  "Slow measurements, apart from the tests. Each fails when what it measures is wrong.",
);
bench
  .command("plans")
  .description(
    "plan generated operations of mixed sizes, check each plan, break each plan in every way and see it caught",
  )
  .option("--seeds <N>", "operations", Number, 200)
  .option("--iterations <N>", "iterations of each search", Number, 60)
  .action(({ seeds, iterations }: { seeds: number; iterations: number }) => {
    process.exitCode = benchPlans(seeds, iterations) ? 0 : 1;
  });
await bench.parseAsync();
