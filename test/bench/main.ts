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
  .option("--break-every <N>", "break every nth plan", Number, 10)
  .action(({ seeds, iterations, breakEvery }: { seeds: number; iterations: number; breakEvery: number }) => {
    process.exitCode = benchPlans(seeds, iterations, breakEvery) ? 0 : 1;
  });
await bench.parseAsync();
