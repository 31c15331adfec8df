import { Command, CommanderError, Option } from "commander";
import { addCalcVerbs } from "./calcVerb.ts";
import { atLeastZero, BadInput, exitCodes, remark, wholeNumber } from "./output.ts";

/** As over HTTP. */
const mostWeeks = 1000;

function program(finish: (code: number) => void): Command {
  /** A verb's room is loaded when it is called: `--help` need not wait for the solver. */
  const run =
    <Args extends unknown[]>(load: () => Promise<(...args: Args) => Promise<number>>) =>
    async (...args: unknown[]) => {
      const verb = await load();
      // Commander hands over the words, then the options, then the command itself.
      finish(await verb(...(args.slice(0, -1) as Args)));
    };
  const cli = new Command("calmhour")
    .description("Plans a week of aerial spraying and spreading with a mixed fleet.")
    .addHelpText(
      "after",
      `
Exit codes: 0 good; 1 the answer is no (a plan that breaks a rule, an outfit that cannot do the work); 2 bad input.
Results go to stdout, progress to stderr. DIR is a scenario folder (see scenarios/README.md).

A planning aid: the label, local pesticide and aviation rules and the licensed applicator on site decide.`,
    )
    .showHelpAfterError()
    .exitOverride();

  cli
    .command("plan <DIR>")
    .description("plan the operation and print the week; exit 1 when the checker finds a broken rule")
    .option("--seconds <N>", "search for so long", wholeNumber("--seconds", 1), 10)
    .option(
      "--iterations <N>",
      "search for so many iterations instead: the same seed then gives the same plan",
      wholeNumber("--iterations", 1),
    )
    .option("--seed <N>", "seed of the search", wholeNumber("--seed", 0), 1)
    .option(
      "--threads <N>",
      "search in so many threads, by seconds (left out: one for each core, 4 at most)",
      wholeNumber("--threads", 1),
    )
    .option(
      "--bound <SECONDS>",
      "prove for so long what no plan can cost less than; 0: do not (left out: by seconds and on several threads as long as the search)",
      wholeNumber("--bound", 0),
    )
    .option(
      "--gap <PERCENT>",
      "end when the plan is proven to cost at most so much more than the least",
      atLeastZero("--gap"),
    )
    .option("--out <FILE>", "write the plan as JSON, if it is good")
    .option("--json", "print the plan and the checker's report as JSON")
    .option("--from <PLAN>", "start from a plan, as far as it still holds")
    .option(
      "--published <PLAN>",
      "count every change against a plan that people know already (planning.change...Cents), and start from it",
    )
    .option("--export-problem <FILE>", "write the compiled problem as JSON for other solvers instead of planning")
    .option(
      "--import-tours <FILE>",
      "take crews' tours from a file instead of planning; exit 1 when a stop does not run or a rule is broken",
    )
    .action(run(async () => (await import("./planVerb.ts")).planVerb));
  cli
    .command("check <DIR> <PLAN>")
    .description("judge a plan by every rule; exit 1 when one is broken")
    .option("--json", "print the report as JSON")
    .action(run(async () => (await import("./checkVerb.ts")).checkVerb));
  cli
    .command("remedies <DIR> <PLAN>")
    .description(
      "print what would help the orders that a good plan leaves out, each change tried by planning again; exit 1 when nothing would",
    )
    .option("--order <ID>", "only what helps this order")
    .option("--iterations <N>", "of each search from the plan", wholeNumber("--iterations", 0), 200)
    .option(
      "--seconds <N>",
      "begin nothing after so long (left out: all is tried, and the same seed tells the same)",
      wholeNumber("--seconds", 1),
    )
    .option("--seed <N>", "seed of the searches", wholeNumber("--seed", 0), 1)
    .option(
      "--threads <N>",
      "try in so many threads (left out: one for each core, 4 at most)",
      wholeNumber("--threads", 1),
    )
    .option("--json", "print as JSON")
    .action(run(async () => (await import("./remediesVerb.ts")).remediesVerb));
  cli
    .command("sheet <DIR> <PLAN>")
    .description("print one crew's day of a good plan")
    .requiredOption("--crew <ID>", "the crew")
    .requiredOption("--date <DATE>", "the day, as 2027-06-14")
    .option("--json", "print the sheet as JSON")
    .action(run(async () => (await import("./checkVerb.ts")).sheetVerb));
  cli
    .command("papers <DIR> <PLAN> <OUT>")
    .description(
      "write the papers of a good plan into a folder: crew-days as PDF, GeoJSON, KML and GPX, the week as PDF and tables",
    )
    .addOption(new Option("--size <SIZE>", "of the paper").choices(["a4", "letter"]).default("a4"))
    .addOption(new Option("--units <UNITS>", "of the PDFs").choices(["metric", "us"]).default("metric"))
    .action(run(async () => (await import("./papersVerb.ts")).papersVerb));
  cli
    .command("lock <DIR> <PLAN>")
    .description("print the entry of locks.json that keeps one crew's day of a plan as it stands")
    .requiredOption("--crew <ID>", "the crew")
    .requiredOption("--date <DATE>", "the day, as 2027-06-14")
    .option("--save", "put it into the folder's locks.json")
    .action(run(async () => (await import("./lockVerb.ts")).lockVerb));
  cli
    .command("replan <DIR> <PLAN>")
    .description(
      "plan again from a moment on, near to a plan that people know, and print what is otherwise and why; exit 1 when the checker finds a broken rule",
    )
    .requiredOption("--as-of <TIME>", "local time as 2027-06-09T10:30: the plan is made for what comes after")
    .option(
      "--progress <FILE>",
      "how far the stops have come, as the API tells it (left out: all went as told up to then)",
    )
    .option("--keep-until <DATE>", "crew-days up to this one stay as they stand, as far as they hold")
    .option("--near", "stay near to what people know: a change costs five times the usual")
    .option("--told-from <DIR>", "the scenario that the plan was made of (left out: DIR as it is now)")
    .option("--seconds <N>", "search for so long", wholeNumber("--seconds", 1), 10)
    .option(
      "--iterations <N>",
      "search for so many iterations instead: the same seed then gives the same plan",
      wholeNumber("--iterations", 0),
    )
    .option("--seed <N>", "seed of the search", wholeNumber("--seed", 0), 1)
    .option("--threads <N>", "search in so many threads, by seconds", wholeNumber("--threads", 1))
    .option("--out <FILE>", "write the plan as JSON, if it is good")
    .option("--out-dir <DIR>", "write what it is a plan of as a scenario folder: what is left of the operation")
    .option("--json", "print difference, remarks, plan and the checker's report as JSON")
    .action(run(async () => (await import("./replanVerb.ts")).replanVerb));
  cli
    .command("bottlenecks <DIR>")
    .description("print what a plan uses, what one more of each thing would bring, and what it brings when tried")
    .option("--plan <FILE>", "a good plan (left out: one is searched for first)")
    .option("--seconds <N>", "search, and then prove a bound, for so long each", wholeNumber("--seconds", 1), 20)
    .option("--try <N>", "plan again with so many of the units that would bring most", wholeNumber("--try", 0), 5)
    .option("--seeds <N>", "searches with and without each unit", wholeNumber("--seeds", 1), 3)
    .option("--iterations <N>", "of each of these searches", wholeNumber("--iterations", 1), 3000)
    .option(
      "--threads <N>",
      "so many plannings at once (left out: one for each core, 4 at most)",
      wholeNumber("--threads", 1),
    )
    .option("--json", "print as JSON")
    .action(run(async () => (await import("./bottlenecksVerb.ts")).bottlenecksVerb));
  cli
    .command("windows <DIR>")
    .description("print the open hours of every order, or the week of one with what stops every other hour")
    .option("--order <ID>", "one order, its week by hours")
    .option("--type <ID>", "one aircraft type")
    .option(
      "--at <TIME>",
      "with --order: is it open then, local time as 2027-06-15T09:00; exit 1 when it is for no type",
    )
    .option("--lost", "hours lost by limit, summed over orders and aircraft types")
    .option("--night", "for a crew that may work at night")
    .option("--json", "print as JSON")
    .action(run(async () => (await import("./windowsVerb.ts")).windowsVerb));
  cli
    .command("worktime <DIR>")
    .description(
      "print how long an order takes an outfit, and every other that could be sent; or brochure against minutes",
    )
    .option("--order <ID>", "the order")
    .option(
      "--outfit <IDS>",
      "aircraft of one type, one tender and any chargers, as A1,A2,T1,C1 (left out: the quickest)",
    )
    .option("--full <N>", "battery sets that are full when the work begins (left out: all)", wholeNumber("--full", 0))
    .option(
      "--passes <FILE>",
      "with --order: write the passes as GeoJSON, in the order flown, with the sortie of each piece",
    )
    .option("--brochure", "all orders: the brochure's minutes against those that the work takes, by type of aircraft")
    .option("--type <ID>", "with --brochure: one aircraft type, with hectares per hour and what makes the difference")
    .option("--json", "print as JSON")
    .action(run(async () => (await import("./worktimeVerb.ts")).worktimeVerb));
  addCalcVerbs(cli, run);
  cli
    .command("whatif <DIR> <CASES>")
    .description(
      "plan the operation with the changes of each case of a file, and print what they bring side by side; exit 1 when a run fails",
    )
    .option(
      "--weeks <N>",
      "over so many weeks, sampled from the season that the file names, with one seed each",
      wholeNumber("--weeks", 1, mostWeeks),
    )
    .option("--iterations <N>", "search for so many iterations, whatever the file says", wholeNumber("--iterations", 1))
    .option("--seeds <N>", "plan each case with so many seeds, whatever the file says", wholeNumber("--seeds", 1, 100))
    .option(
      "--threads <N>",
      "plan so many at once; the result is the same (left out: one for each core, 4 at most)",
      wholeNumber("--threads", 1),
    )
    .option("--json", "print the comparison as JSON")
    .action(run(async () => (await import("./whatifVerb.ts")).whatifVerb));
  cli
    .command("hours <DIR> <SEASON> <HISTORY>")
    .description(
      "print spray hours a week by month and aircraft type, over weeks sampled from a season (JSON) and a history of weather (CSV)",
    )
    .option(
      "--weeks <N>",
      "how many weeks; the same that whatif --weeks plans",
      wholeNumber("--weeks", 1, mostWeeks),
      52,
    )
    .option("--json", "print as JSON")
    .action(run(async () => (await import("./hoursVerb.ts")).hoursVerb));
  cli
    .command("generate <OUT>")
    .description("make an operation of any size in the demo's style; the same seed makes the same one")
    .requiredOption("--orders <N>", "orders", wholeNumber("--orders", 1))
    .requiredOption("--crews <N>", "crews", wholeNumber("--crews", 1))
    .option("--days <N>", "days", wholeNumber("--days", 1), 7)
    .option("--seed <N>", "seed", wholeNumber("--seed", 0), 1)
    .option("--first-day <DATE>", "first day, as 2027-06-14")
    .option("--json", "print what was made as JSON")
    .action(run(async () => (await import("./generateVerb.ts")).generateVerb));
  cli
    .command("import <DIR>")
    .description("store the operation as a new version, unless it is the same as the last")
    .option("--server <URL>", "through a running Calmhour instead of the store itself, as http://127.0.0.1:8080")
    .option("--json", "print what was stored, and every default used, as JSON")
    .action(run(async () => (await import("./importVerb.ts")).importVerb));
  cli
    .command("backup <FILE>")
    .description(
      "write all that is stored to a file, also while Calmhour runs, and read it again to see that it is whole",
    )
    .action(run(async () => (await import("./backupVerb.ts")).backupVerb));
  cli
    .command("restore <FILE>")
    .description("fill an empty store from a backup, all or nothing; Calmhour must not run on it")
    .action(run(async () => (await import("./backupVerb.ts")).restoreVerb));
  cli
    .command("people")
    .description("who may sign in")
    .command("reset <NAME>")
    .description(
      "print an address that sets a new password for NAME, once; for whoever has lost it and has nobody to ask",
    )
    .action(run(async () => (await import("./peopleVerb.ts")).resetPersonVerb));
  cli
    .command("serve")
    .description("run everything: store, queue, worker, API and page, until Ctrl-C")
    .option("--no-worker", "leave the work to workers that run elsewhere")
    .action(run(async () => (await import("./serveVerb.ts")).serveVerb));
  cli
    .command("worker")
    .description("run a worker for a store and queue that run elsewhere (DATABASE_URL, REDIS_URL)")
    .action(run(async () => (await import("./serveVerb.ts")).workerVerb));
  return cli;
}

async function main(): Promise<number> {
  let code: number = exitCodes.good;
  try {
    await program((verdict) => {
      code = verdict;
    }).parseAsync();
    return code;
  } catch (error) {
    if (error instanceof CommanderError) return error.exitCode === 0 ? exitCodes.good : exitCodes.badInput;
    if (!(error instanceof BadInput)) throw error;
    for (const line of error.lines) remark(line);
    return exitCodes.badInput;
  }
}

// Whoever reads no further, as head does, has seen enough.
process.stdout.on("error", (error: NodeJS.ErrnoException) => {
  if (error.code !== "EPIPE") throw error;
  process.exit(exitCodes.good);
});
process.exitCode = await main();
