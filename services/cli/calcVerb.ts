import type { Command } from "commander";
import { clockTime, countOf, dateOf, figure, figures, zoneOf } from "./calc/options.ts";

type Run = <Args extends unknown[]>(
  load: () => Promise<(...args: Args) => Promise<number>>,
) => (...args: unknown[]) => Promise<void>;

/** The hand calculations, each by the same function that plans are made with. */
export function addCalcVerbs(cli: Command, run: Run): void {
  const calc = cli
    .command("calc")
    .description("calculate by hand what plans rest on: air, sun, intervals, flow, loads, sorties an hour");
  calc
    .command("delta-t")
    .description("Delta T (dry bulb less wet bulb) and what it says of the hour")
    .requiredOption("--temp <C>", "air temperature, °C", figure("--temp", -50, 60))
    .requiredOption("--humidity <PCT>", "relative humidity, %", figure("--humidity", 0, 100))
    .option("--pressure <HPA>", "air pressure at the place, hPa", figure("--pressure", 500, 1100), 1013.25)
    .option("--json", "print as JSON")
    .addHelpText("after", "\nExample: calc delta-t --temp 20 --humidity 50")
    .action(run(async () => (await import("./calc/deltaT.ts")).deltaTVerb));
  calc
    .command("wind")
    .description("the mean wind at another height than the one it was measured at")
    .requiredOption("--speed <V>", "wind speed in any unit; the answer is in the same", figure("--speed", 0, 1000))
    .requiredOption("--from <M>", "height at which it was measured, m", figure("--from", 0.1, 200))
    .requiredOption("--to <M>", "height at which it is wanted, m", figure("--to", 0.1, 200))
    .option("--json", "print as JSON")
    .addHelpText("after", "\nExample: calc wind --speed 3.2 --from 10 --to 2")
    .action(run(async () => (await import("./calc/wind.ts")).windVerb));
  calc
    .command("sun")
    .description("sunrise, sunset, civil dawn and dusk, and the length of the day")
    .requiredOption("--lat <DEG>", "latitude, degrees north", figure("--lat", -90, 90))
    .requiredOption("--lon <DEG>", "longitude, degrees east", figure("--lon", -180, 180))
    .requiredOption("--date <DATE>", "local date, as 2027-06-21", dateOf("--date"))
    .requiredOption("--zone <ZONE>", "IANA time zone, as Europe/Madrid", zoneOf("--zone"))
    .option("--json", "print as JSON")
    .addHelpText("after", "\nExample: calc sun --lat 36.95 --lon -112.52 --date 2027-06-21 --zone America/Phoenix")
    .action(run(async () => (await import("./calc/sun.ts")).sunVerb));
  calc
    .command("harvest")
    .description("the earliest harvest and the earliest entry after an application")
    .requiredOption(
      "--ended <TIME>",
      "when the application ended, local time as 2027-06-08T18:00",
      clockTime("--ended"),
    )
    .requiredOption("--phi <DAYS>", "pre-harvest interval, days; once for each product of a mix", figures("--phi", 365))
    .requiredOption("--rei <HOURS>", "re-entry interval, hours; once for each product", figures("--rei", 24 * 60))
    .requiredOption("--zone <ZONE>", "IANA time zone, as Europe/Madrid", zoneOf("--zone"))
    .option("--json", "print as JSON")
    .addHelpText("after", "\nExample: calc harvest --ended 2027-06-08T18:00 --phi 7 --rei 72 --zone Europe/Madrid")
    .action(run(async () => (await import("./calc/harvest.ts")).harvestVerb));
  calc
    .command("flow")
    .description("flow, speed or rate from the other two, and the work rate in hectares an hour")
    .requiredOption("--swath <M>", "swath, m", figure("--swath", 0.1, 200))
    .option("--rate <PER_HA>", "carrier rate, L/ha (with --granules kg/ha)", figure("--rate", 0.01, 10_000))
    .option("--speed <KPH>", "speed over the ground, km/h", figure("--speed", 0.1, 500))
    .option("--flow <PER_MIN>", "flow, L/min (with --granules kg/min)", figure("--flow", 0.001, 10_000))
    .option("--efficiency <FRAC>", "field efficiency, 0.01 to 1", figure("--efficiency", 0.01, 1))
    .option("--granules", "kilograms instead of litres")
    .option("--json", "print as JSON")
    .addHelpText(
      "after",
      "\nGive two of --rate, --speed and --flow.\nExample: calc flow --rate 100 --speed 8 --swath 12 --efficiency 0.7",
    )
    .action(run(async () => (await import("./calc/flow.ts")).flowVerb));
  calc
    .command("loads")
    .description("loads of an area, their size evened out or filled up, hectares and product in each")
    .requiredOption("--area <HA>", "area, ha", figure("--area", 0.01, 100_000))
    .requiredOption("--rate <PER_HA>", "carrier rate, L/ha (with --granules kg/ha)", figure("--rate", 0.01, 10_000))
    .requiredOption("--tank <SIZE>", "full tank, L (with --granules full hopper, kg)", figure("--tank", 0.1, 20_000))
    .option("--payload <KG>", "most that the aircraft may carry, kg", figure("--payload", 0.1, 20_000))
    .option("--density <KG_PER_L>", "density of the mix, kg/L (left out: 1)", figure("--density", 0.5, 3))
    .option(
      "--dose <PER_HA>",
      "product per hectare in any unit; the answer is in the same",
      figure("--dose", 0, 100_000),
    )
    .option("--granules", "kilograms instead of litres")
    .option("--json", "print as JSON")
    .addHelpText("after", "\nExample: calc loads --area 20 --rate 15 --tank 40 --dose 0.2")
    .action(run(async () => (await import("./calc/loads.ts")).loadsVerb));
  calc
    .command("cycle")
    .description("sorties an hour of aircraft that share loading points, the bottleneck, and what one more would bring")
    .requiredOption("--aircraft <N>", "aircraft", countOf("--aircraft", 100))
    .requiredOption("--fly <MIN>", "from leaving the loading point to being back, min", figure("--fly", 0.1, 600))
    .requiredOption("--load <MIN>", "loading one aircraft, min", figure("--load", 0.1, 600))
    .option("--points <N>", "aircraft that are loaded at once", countOf("--points", 100), 1)
    .option("--change <MIN>", "changing the batteries before each sortie, min", figure("--change", 0.1, 600))
    .option("--changers <N>", "people who change batteries (left out: 1)", countOf("--changers", 100))
    .option("--sorties <N>", "sorties of the play with times that never vary", countOf("--sorties", 100_000), 1000)
    .option("--json", "print as JSON")
    .addHelpText("after", "\nExample: calc cycle --aircraft 6 --fly 8 --load 3 --points 2")
    .action(run(async () => (await import("./calc/cycle.ts")).cycleVerb));
}
