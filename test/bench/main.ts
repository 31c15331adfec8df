import { Command, Option } from "commander";
import type { DemoAsk } from "../support/fillDemo.ts";
import type { BoundOptions } from "./bound.ts";
import type { DemoStudiesOptions } from "./demoStudies.ts";
import type { ExactOptions } from "./exact.ts";
import type { FuzzOptions } from "./fuzz.ts";
import type { KillsOptions } from "./kills.ts";
import type { LoadOptions } from "./load.ts";
import type { MovesOptions } from "./moves.ts";
import { benchPlans } from "./plans.ts";
import type { RemediesOptions } from "./remedies.ts";
import type { ReplanOptions } from "./replan.ts";
import type { Objective } from "./routing/settings.ts";
import type { ThreadsOptions } from "./threads.ts";
import type { WeeksOptions } from "./weeks.ts";
import type { WorkersOptions } from "./workers.ts";
import type { WorthOptions } from "./worth.ts";

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
bench
  .command("examples")
  .description("write the examples of the OpenAPI document again: what a whole service answers on the small scenario")
  .action(async () => (await import("./examples.ts")).recordExamples());
bench
  .command("demo-studies")
  .description("work the studies that the demo server shows, and record what they come to (test/data/demoStudies.json)")
  .option("--iterations <N>", "of each search of a case", Number, 600)
  .option("--seeds <N>", "plans of each case in the operation's week", Number, 3)
  .option("--weeks <N>", "drawn from the season", Number, 20)
  .action(async (options: DemoStudiesOptions) => (await import("./demoStudies.ts")).recordDemoStudies(options));
bench
  .command("demo-server")
  .description("the whole service with the demo, plans, people, reports and cases in it, until it is interrupted")
  .option("--orders <N>", "of a generated week instead of the demo", Number)
  .option("--iterations <N>", "of the search for the published plan", Number)
  .option("--port <N>", "where it listens, or the next free one", Number)
  .option("--studies", "with what was found out by its set of cases and of its plan")
  .action(async (ask: DemoAsk) => (await import("./demoServer.ts")).keepDemoServer(ask));
bench
  .command("sizes")
  .description("bytes of script, styles and images before any room is opened, and by room")
  .action(async () => (await import("./sizes.ts")).tellSizes());
bench
  .command("draw")
  .description("how long the browser takes to draw a week, from its data to the painted board")
  .option("--orders <N>", "of the generated week", Number, 500)
  .option("--iterations <N>", "of the search for its plan", Number, 100)
  .action(async (options: { orders: number; iterations: number }) => {
    process.exitCode = (await (await import("./draw.ts")).drawWeek(options)) ? 0 : 1;
  });
bench
  .command("full-disk")
  .description(
    "a store on a small disk that is filled while operations come in, and emptied again; needs the right to mount",
  )
  .action(async () => {
    process.exitCode = await (await import("./fullDisk.ts")).fullDisk();
  });
bench
  .command("reasons")
  .description(
    "what conflicts of tight operations claim, by planning each order afresh in inputs without what they name",
  )
  .option("--from <N>", "first seed", Number, 1)
  .option("--seeds <N>", "operations", Number, 100)
  .option("--iterations <N>", "iterations of each search", Number, 60)
  .action(async ({ from, seeds, iterations }: { from: number; seeds: number; iterations: number }) => {
    process.exitCode = (await import("./reasons.ts")).benchReasons(from, seeds, iterations) ? 0 : 1;
  });
bench
  .command("replan")
  .description(
    "a published week planned again after a new forecast: first checked answer, stops kept, value beside planning afresh",
  )
  .option("--orders <N>", "orders", Number, 500)
  .option("--seconds <N>", "of the processor, for every plan", Number, 20)
  .option("--seeds <N>", "weeks", Number, 3)
  .option("--change <N>", "cost of a change, times the usual", Number, 1)
  .action(async (options: ReplanOptions) => {
    process.exitCode = (await (await import("./replan.ts")).benchReplan(options)) ? 0 : 1;
  });
bench
  .command("windows")
  .description(
    "find the windows of a generated week for every order and kind of aircraft, checked before they are timed",
  )
  .option("--orders <N>", "orders", Number, 2000)
  .action(async ({ orders }: { orders: number }) => {
    process.exitCode = (await import("./windows.ts")).benchWindows(orders) ? 0 : 1;
  });
bench
  .command("fieldwork")
  .description(
    "minutes of every block with every outfit of a generated week: how fast, and a closed form beside what is played",
  )
  .option("--orders <N>", "orders", Number, 400)
  .action(async ({ orders }: { orders: number }) => {
    process.exitCode = (await import("./fieldwork.ts")).benchFieldwork(orders) ? 0 : 1;
  });
bench
  .command("checks")
  .description(
    "published values of air, sun, intervals and work beside ours, and random comparisons with libraries from outside",
  )
  .action(async () => {
    process.exitCode = (await import("./checks.ts")).benchChecks() ? 0 : 1;
  });
bench
  .command("remedies")
  .description(
    "remedies of tight generated operations, each made to the input and planned afresh: how many hold, hectares claimed and realised",
  )
  .option("--from <N>", "first seed", Number, 1)
  .option("--seeds <N>", "operations", Number, 100)
  .option("--iterations <N>", "of each plan afresh, two of which are made", Number, 3000)
  .option("--warm <N>", "of each search from the present plan", Number, 200)
  .action(async (options: RemediesOptions) => {
    process.exitCode = (await (await import("./remedies.ts")).benchRemedies(options)) ? 0 : 1;
  });
bench
  .command("kills")
  .description("kill workers, API, Redis and Postgres under load; what was acknowledged is done once, nothing is lost")
  .option("--kills <N>", "servers killed", Number, 200)
  .option("--seed <N>", "of what is killed when", Number, 1)
  .option("--within <SECONDS>", "after the last kill everything is done within", Number, 180)
  .action(async (options: KillsOptions) => {
    process.exitCode = (await (await import("./kills.ts")).benchKills(options)) ? 0 : 1;
  });
bench
  .command("fuzz")
  .description("send requests made of the API's document, good and bad, and judge every answer by it")
  .option("--requests <N>", "requests", Number, 100_000)
  .option("--seed <N>", "of what is sent", Number, 1)
  .action(async (options: FuzzOptions) => {
    process.exitCode = (await (await import("./fuzz.ts")).benchFuzz(options)) ? 0 : 1;
  });
bench
  .command("linear")
  .description("linear models of growing size on both engines, checked against each other: where the border lies")
  .action(async () => {
    process.exitCode = (await (await import("./linear.ts")).benchLinear()) ? 0 : 1;
  });
bench
  .command("routing")
  .description("solve research instances of routing with the same search, judge the tours, compare with the best known")
  .argument("[words...]", "files, families (solomon), or families by size (homberger-200); all without")
  .option("--seconds <N>", "seconds of the processor for each", Number, 10)
  .option("--seed <N>", "of the search", Number, 1)
  .addOption(
    new Option("--objective <WHAT>", "the families' own cost, or fewest routes first")
      .choices(["distance", "vehicles"])
      .default("distance"),
  )
  .option("--jobs <N>", "so many at a time", Number, 1)
  .action(async (words: string[], options: { seconds: number; seed: number; objective: Objective; jobs: number }) => {
    process.exitCode = (await (await import("./routing.ts")).benchRouting(words, options)) ? 0 : 1;
  });
bench
  .command("exact")
  .description("the best plans of small operations, known exactly, beside what the search finds, and what it lacks")
  .option("--from <N>", "first seed", Number, 1)
  .option("--seeds <N>", "operations", Number, 100)
  .option("--iterations <N>", "iterations of each search", Number, 10_000)
  .option("--runs <N>", "searches of each operation", Number, 1)
  .option("--polish", "with a linear engine that puts routes together anew", false)
  .action(async (options: ExactOptions) => {
    process.exitCode = (await (await import("./exact.ts")).benchExact(options)) ? 0 : 1;
  });
bench
  .command("demo")
  .description("the demo's week by the planner, by the planner as if roads cost nothing, and by a dispatcher's rule")
  .option("--seconds <N>", "of each search", Number, 10)
  .option("--seed <N>", "of the search", Number, 1)
  .action(async ({ seconds, seed }: { seconds: number; seed: number }) => {
    process.exitCode = (await (await import("./demo.ts")).benchDemo(seconds, seed)) ? 0 : 1;
  });
bench
  .command("threads")
  .description("one search, several that go on from each other's best plans, several that do not")
  .argument("[DIR]", "a scenario; the demo without")
  .option("--seconds <N>", "of each run", Number, 10)
  .option("--iterations <N>", "of each thread, in place of seconds", Number)
  .option("--threads <N>", "threads", Number, 2)
  .option("--pairs <N>", "seeds", Number, 5)
  .option("--seed <N>", "the first", Number, 1)
  .action(async (dir: string | undefined, options: Omit<ThreadsOptions, "dir">) => {
    const { benchThreads, demoFolder } = await import("./threads.ts");
    process.exitCode = (await benchThreads({ ...options, dir: dir ?? demoFolder })) ? 0 : 1;
  });
const sizes = (text: string) => (text === "" ? [] : text.split(",").map(Number));
bench
  .command("weeks")
  .description("generated weeks: first checked plan, cost after 10 and 60 s beside a long run, memory, iterations")
  .option("--orders <N,N>", "sizes of weeks that are planned", sizes, [500, 2000])
  .option("--long-seconds <N>", "of the long run", Number, 120)
  .option("--iteration-orders <N,N>", "sizes for which iterations are timed", sizes, [100, 500, 2000, 10000])
  .option("--iteration-seconds <N>", "of the loop for each", Number, 5)
  .option("--seed <N>", "of weeks and searches", Number, 1)
  .action(async (options: WeeksOptions) => {
    process.exitCode = (await (await import("./weeks.ts")).benchWeeks(options)) ? 0 : 1;
  });
bench
  .command("bound")
  .description("what no plan costs less than, beside the best plans of small operations, the demo's and a large week's")
  .option("--seeds <N>", "small operations", Number, 60)
  .option("--seconds <N>", "seconds of the processor for each bound and search", Number, 30)
  .option("--orders <N,N>", "sizes of large weeks", sizes, [500])
  .action(async (options: BoundOptions) => {
    process.exitCode = (await (await import("./bound.ts")).benchBound(options)) ? 0 : 1;
  });
bench
  .command("worth")
  .description(
    "what one more of a thing would bring by the linear relaxation, beside what it brings when planned again",
  )
  .option("--exact <N>", "small operations whose best plans are known", Number, 6)
  .option("--operations <N>", "generated operations beside the demo", Number, 10)
  .option("--seconds <N>", "seconds of the processor for each bound", Number, 8)
  .option("--tried <N>", "units of each operation", Number, 3)
  .option("--seeds <N>", "searches with and without each unit", Number, 3)
  .option("--iterations <N>", "of each of these searches", Number, 1500)
  .action(async (options: WorthOptions) => {
    process.exitCode = (await (await import("./worth.ts")).benchWorth(options)) ? 0 : 1;
  });
bench
  .command("workers")
  .description("a batch of cases worked by one worker process and by two, the queue in Postgres and in Redis")
  .option("--cases <N>", "cases beside the base", Number, 50)
  .option("--iterations <N>", "of each", Number, 4000)
  .option("--rounds <N>", "of each number of workers, in turn", Number, 3)
  .action(async (options: WorkersOptions) => {
    process.exitCode = (await (await import("./workers.ts")).benchWorkers(options)) ? 0 : 1;
  });
bench
  .command("load")
  .description("reading a week and a crew-day beside a bare Express route that sends the same bytes")
  .option("--orders <N>", "of the week", Number, 500)
  .option("--seconds <N>", "of each run", Number, 4)
  .option("--connections <N>", "at once", Number, 64)
  .option("--runs <N>", "of each", Number, 3)
  .action(async (options: LoadOptions) => {
    process.exitCode = (await (await import("./load.ts")).benchLoad(options)) ? 0 : 1;
  });
bench
  .command("moves")
  .description("how long a move by hand waits for its answer, on the demo and on a generated week")
  .option("--orders <N>", "of the week", Number, 500)
  .option("--moves <N>", "of each kind", Number, 60)
  .option("--iterations <N>", "of the plans that are moved", Number, 300)
  .action(async (options: MovesOptions) => {
    process.exitCode = (await (await import("./moves.ts")).benchMoves(options)) ? 0 : 1;
  });
await bench.parseAsync();
