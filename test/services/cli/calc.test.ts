import { describe, expect, it } from "vitest";
import { deltaTC } from "../../../shared/agronomy/air.ts";
import { deltaTBandOf } from "../../../shared/agronomy/deltaTBand.ts";
import { answer, calc, rowsOf } from "./runCalc.ts";

describe("hand calculations", { timeout: 120_000 }, () => {
  // Values: psychrolib 1.1.1 at 101325 Pa. Bands: Bureau of Meteorology guidance, quoted in extension texts.
  it.each([
    [20, 50, 6.22, "preferred"],
    [30, 30, 12.03, "avoid"],
    [10, 90, 0.84, "cautionLow"],
  ])("Delta T of %d C and humidity %d is %d, %s", (temperatureC, humidityPct, expectedC, band) => {
    const told = answer<{ deltaTC: number; wetBulbC: number; band: string }>(
      "delta-t",
      "--temp",
      String(temperatureC),
      "--humidity",
      String(humidityPct),
    );
    expect(Math.abs(told.deltaTC - expectedC)).toBeLessThan(0.005);
    expect(told.wetBulbC).toBeCloseTo(temperatureC - told.deltaTC, 9);
    expect(told.band).toBe(band);
  });

  it("Delta T is told to the hundredth, with its band and the pressure it was found at", () => {
    const { stdout } = calc("delta-t", "--temp", "20", "--humidity", "50");
    expect(stdout).toContain("Delta T    6.22 °C  preferred");
    expect(stdout).toContain("1013.25 hPa");
    // Thinner air lets more evaporate: psychrolib 1.1.1 gives 6.642 at 850 hPa.
    const high = answer<{ deltaTC: number }>("delta-t", "--temp", "20", "--humidity", "50", "--pressure", "850");
    expect(Math.abs(high.deltaTC - 6.642)).toBeLessThan(0.005);
  });

  it("wind at 2 m after FAO Irrigation and Drainage Paper 56, example 14, in whatever unit", () => {
    const told = answer<{ speedAtTo: number; law: string }>("wind", "--speed", "3.2", "--from", "10", "--to", "2");
    expect(Math.abs(told.speedAtTo - 2.39)).toBeLessThan(0.01);
    expect(told.law).toContain("eq. 47");
    // 3.6 x 3.2 x ln(130.18) / ln(672.58) = 11.52 x 0.7478
    const { stdout } = calc("wind", "--speed", "11.52", "--from", "10", "--to", "2");
    expect(stdout).toContain("11.52 at 10 m is 8.61 at 2 m");
  });

  // Extension calendar example: last application 8 June, PHI 7 -> harvest from 15 June.
  it("harvest by the pre-harvest interval", () => {
    const words = ["harvest", "--ended", "2027-06-08T18:00", "--phi", "7", "--rei", "72", "--zone", "Europe/Madrid"];
    expect(answer(...words)).toMatchObject({
      harvestDate: "2027-06-15",
      ruledBy: "phi",
      entryFrom: "2027-06-11T18:00:00+02:00",
    });
    expect(calc(...words).stdout).toContain("ruled by              the pre-harvest interval (PHI)");
  });

  // 3 CCR 6772: 4 d that begin at the end of 3 June 14:30 end on 7 June 14:30. The longest of several counts: EPA, WSU.
  it("entry and harvest by the longest re-entry interval of a mix", () => {
    const words = [
      "--phi",
      "1",
      "--phi",
      "2",
      "--rei",
      "12",
      "--rei",
      "96",
      "--rei",
      "4",
      "--zone",
      "America/Los_Angeles",
    ];
    expect(answer("harvest", "--ended", "2027-06-03T14:30", ...words)).toMatchObject({
      phiDays: 2,
      reiHours: 96,
      entryFrom: "2027-06-07T14:30:00-07:00",
      harvestFrom: "2027-06-07T14:30:00-07:00",
      harvestDate: "2027-06-08",
      ruledBy: "rei",
    });
  });

  it("a pre-harvest interval of a day may be a minute, and that is said", () => {
    const told = (ended: string, phi: string, rei = "0") =>
      calc("harvest", "--ended", ended, "--phi", phi, "--rei", rei, "--zone", "Europe/Madrid").stdout.replace(
        /\s+/g,
        " ",
      );
    const remark = (min: number) =>
      `pre-harvest interval (PHI) of 1 day, counted by date: only ${min} min after the end; the label may count hours`;
    expect(told("2027-06-08T23:59", "1")).toContain(`harvest from 2027-06-09 00:00, ${remark(1)}`);
    expect(told("2027-06-08T23:01", "1")).toContain(remark(59));
    expect(told("2027-06-08T23:00", "1")).toContain("(PHI) of 1 day, counted by date earliest");
    expect(told("2027-06-08T23:45", "1", "0.5")).toContain(
      `harvest from 2027-06-09 00:15, re-entry interval (REI) of 0.5 h, which ends after the ${remark(30)}`,
    );
    expect(told("2027-06-08T23:59", "2")).toContain("(PHI) of 2 days, counted by date earliest");
    expect(told("2027-06-08T23:59", "0")).not.toContain("counted by date");
    expect(told("2027-06-08T18:00", "1", "12")).toContain(
      "entry from 2027-06-09 06:00, re-entry interval (REI) of 12 h ",
    );
  });

  it("nothing is compared where there is no interval to compare", () => {
    const told = (phi: string, rei: string) =>
      rowsOf(
        calc("harvest", "--ended", "2027-06-14T10:00", "--phi", phi, "--rei", rei, "--zone", "Europe/Madrid").stdout,
      );
    expect(told("0", "0")).toMatchObject({
      "harvest from": "2027-06-14 10:00, no interval to wait for",
      "ruled by": "none: neither a pre-harvest (PHI) nor a re-entry interval (REI)",
    });
    expect(told("0", "12")).toMatchObject({
      "harvest from": "2027-06-14 22:00, re-entry interval (REI) of 12 h",
      "ruled by": "the re-entry interval (REI)",
    });
  });

  it("harvest is told by the interval that ends last", () => {
    const told = (phi: string, rei: string) =>
      calc(
        "harvest",
        "--ended",
        "2027-06-08T14:00",
        "--phi",
        phi,
        "--rei",
        rei,
        "--zone",
        "Europe/Madrid",
      ).stdout.replace(/\s+/g, " ");
    expect(told("1", "36")).toContain(
      "harvest from 2027-06-10 02:00, re-entry interval (REI) of 36 h, which ends after the pre-harvest interval (PHI) of 1 day, counted by date earliest",
    );
    expect(told("1", "10")).toContain(
      "harvest from 2027-06-09 00:00, re-entry interval (REI) of 10 h and pre-harvest interval (PHI) of 1 day, counted by date earliest",
    );
    expect(told("2", "36")).toContain("harvest from 2027-06-10 02:00, re-entry interval (REI) of 36 h, which");
    expect(told("3", "36")).toContain("harvest from 2027-06-11 00:00, pre-harvest interval (PHI) of 3 days, counted");
  });

  it("work that ended at midnight counts from the day that ended with it, and that is said", () => {
    const words = ["--phi", "7", "--rei", "12", "--zone", "Europe/Madrid"];
    const told = calc("harvest", "--ended", "2027-06-09T00:00", ...words).stdout.replace(/\s+/g, " ");
    expect(told).toContain(
      "harvest from 2027-06-15 00:00, pre-harvest interval (PHI) of 7 days, counted by date from Tuesday 8 June, in whose last minute it ended earliest",
    );
    expect(calc("harvest", "--ended", "2027-06-09T00:01", ...words).stdout).not.toContain("last minute");
  });

  it("a Delta T at the edge of a band is told with as many figures as set it apart", () => {
    const air = hardlyBeyondAnEdge();
    expect(air.length).toBeGreaterThan(2);
    for (const { temperatureC, humidityPct, figureC } of air) {
      const words = ["--temp", String(temperatureC), "--humidity", String(humidityPct)];
      const told = rowsOf(calc("delta-t", ...words).stdout)["Delta T"]!;
      expect(deltaTBandOf(Number.parseFloat(told)), told).toBe(deltaTBandOf(figureC));
      expect(Math.abs(Number.parseFloat(told) - figureC)).toBeLessThan(0.005);
    }
  });

  // Clocks in Madrid go back on 31 October 2027 from 03:00 to 02:00 (IANA time zone database).
  it("of an end that the clocks show twice the later counts, and that is said", () => {
    const words = ["harvest", "--ended", "2027-10-31T02:30", "--phi", "1", "--rei", "12", "--zone", "Europe/Madrid"];
    expect(answer(...words)).toMatchObject({
      ended: "2027-10-31T02:30:00+01:00",
      entryFrom: "2027-10-31T14:30:00+01:00",
    });
    expect(calc(...words).stdout).toContain(
      "application ended     2027-10-31 02:30 (second time), the later of the two: people are kept out",
    );
    const plain = calc(
      "harvest",
      "--ended",
      "2027-10-31T03:30",
      "--phi",
      "1",
      "--rei",
      "12",
      "--zone",
      "Europe/Madrid",
    );
    expect(plain.stdout).toMatch(/^application ended {5}2027-10-31 03:30$/m);
    // An entry that falls into the hour that comes twice says which.
    const before = calc(
      "harvest",
      "--ended",
      "2027-10-30T14:30",
      "--phi",
      "0",
      "--rei",
      "12",
      "--zone",
      "Europe/Madrid",
    );
    expect(before.stdout).toContain("2027-10-31 02:30 (first time), re-entry interval (REI) of 12 h");
  });

  it("hours of a re-entry interval pass, whatever the clocks do", () => {
    const words = ["--phi", "0", "--rei", "24", "--zone", "Europe/Berlin"];
    expect(answer("harvest", "--ended", "2027-03-27T12:00", ...words)).toMatchObject({
      entryFrom: "2027-03-28T13:00:00+02:00",
    });
  });

  it("refuse what they cannot use with 2, and say what they expected", () => {
    for (const [words, expected] of [
      [["delta-t", "--temp", "warm", "--humidity", "50"], "--temp: warm; expected a number from -50 to 60"],
      [["delta-t", "--temp", "0x10", "--humidity", "50"], "--temp: 0x10; expected"],
      [["delta-t", "--temp", "20", "--humidity", "101"], "--humidity: 101; expected a number from 0 to 100"],
      [["delta-t", "--temp", "20"], "required option '--humidity"],
      [["wind", "--speed", "3", "--from", "0", "--to", "2"], "--from: 0; expected a number from 0.1 to 200"],
      [["sun", "--lat", "91", "--lon", "0", "--date", "2027-06-21", "--zone", "UTC"], "--lat: 91"],
      [["sun", "--lat", "1", "--lon", "0", "--date", "2027-02-30", "--zone", "UTC"], "--date: 2027-02-30"],
      [["sun", "--lat", "1", "--lon", "0", "--date", "2027-06-21", "--zone", "Mars/Olympus"], "--zone: Mars/Olympus"],
      [
        ["harvest", "--ended", "2027-03-28T02:30", "--phi", "1", "--rei", "4", "--zone", "Europe/Madrid"],
        "they are put forward over 2027-03-28T02:30",
      ],
      [
        ["harvest", "--ended", "2027-06-08T18:00", "--phi", "1.5", "--rei", "4", "--zone", "Europe/Madrid"],
        "expected whole days",
      ],
      [["moon"], "unknown command"],
    ] as const) {
      const { status, stderr } = calc(...words);
      expect(stderr).toContain(expected);
      expect(status).toBe(2);
    }
  });

  it("help with an example each", () => {
    for (const verb of ["delta-t", "wind", "sun", "harvest"]) {
      expect(calc("--help").stdout).toContain(`  ${verb} `);
      expect(calc(verb, "--help").stdout).toContain(`Example: calc ${verb}`);
    }
  });
});

/** Air whose Delta T lies beyond the edge of a band, but reads as on it with two decimals. */
function hardlyBeyondAnEdge() {
  const found: { readonly temperatureC: number; readonly humidityPct: number; readonly figureC: number }[] = [];
  for (let tenthsC = 100; tenthsC < 400 && found.length < 4; tenthsC++) {
    for (let humidityPct = 10; humidityPct < 95; humidityPct++) {
      const figureC = deltaTC(tenthsC / 10, humidityPct, 101_325);
      const isOn = deltaTBandOf(Number(figureC.toFixed(2))) === deltaTBandOf(figureC);
      if (!isOn) found.push({ temperatureC: tenthsC / 10, humidityPct, figureC });
    }
  }
  return found;
}
