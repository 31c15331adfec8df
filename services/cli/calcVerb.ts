import type { Command } from "commander";
import { clockTime, dateOf, figure, figures, zoneOf } from "./calc/options.ts";

type Run = <Args extends unknown[]>(
  load: () => Promise<(...args: Args) => Promise<number>>,
) => (...args: unknown[]) => Promise<void>;

/** The hand calculations, each by the same function that plans are made with. */
export function addCalcVerbs(cli: Command, run: Run): void {
  const calc = cli
    .command("calc")
    .description("calculate by hand what plans rest on: Delta T, wind at a height, the sun, harvest and entry");
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
}
