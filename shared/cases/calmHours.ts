import type { Agronomy } from "../agronomy/agronomy.ts";
import { hoursOfHorizon } from "../agronomy/windows.ts";
import { createCalendar } from "../model/calendar.ts";
import { shortDateWords } from "../model/dateWords.ts";
import type { Operation } from "../model/operation.ts";
import { shiftOf } from "../plan/use.ts";
import type { Unit } from "./units.ts";

/** A light wind and its gusts, if the forecast has more. Our choice. */
const calm = { windKph: 8, gustKph: 12 };
const giveWay: readonly string[] = ["wind", "gust"];

/**
 * For each day the hour in which wind and gusts alone stop most hectares while a crew is on shift, with a light wind at every station in the steps of the forecast that reach into it. Nobody can
 * have it: it tells how much of the week hangs on the wind.
 */
export function calmHours(operation: Operation, agronomy: Agronomy): Unit[] {
  const calendar = createCalendar(operation.settings);
  const { fleet, weather } = operation;
  const hours = hoursOfHorizon(calendar);
  return calendar.dates.flatMap((date, day): Unit[] => {
    const shifts = fleet.crews.flatMap((crew) => shiftOf(calendar, crew, date));
    const worked = hours.filter(
      ({ startMin, endMin }) =>
        calendar.dayOfMin(startMin) === day &&
        shifts.some((shift) => shift.startMin <= startMin && endMin <= shift.endMin),
    );
    let mostHa = 0;
    let best = worked[0];
    for (const hour of worked) {
      const areaHa = stoppedByWindHa(operation, agronomy, (hour.startMin + hour.endMin) / 2);
      if (areaHa <= mostHa) continue;
      mostHa = areaHa;
      best = hour;
    }
    if (best === undefined || mostHa === 0) return [];
    const { startMin, endMin } = best;
    const steps = weather.map((step) => {
      const stepMin = calendar.minOfInstant(step.start);
      if (stepMin >= endMin || stepMin + step.stepMin <= startMin) return step;
      return {
        ...step,
        windKph: Math.min(step.windKph, calm.windKph),
        gustKph: Math.min(step.gustKph, calm.gustKph),
      };
    });
    return [
      {
        kind: "calmHour",
        date,
        words: `a wind of ${calm.windKph} km/h on ${shortDateWords(date, operation.settings.firstDay)} from ${calendar.clockOfMin(startMin)} to ${calendar.clockOfMin(endMin)}`,
        changes: [{ kind: "replaceWeather", steps }],
      },
    ];
  });
}

/** Hectares of orders that some aircraft could do at the minute, were it not for the wind. */
function stoppedByWindHa({ orders, fleet }: Operation, agronomy: Agronomy, min: number): number {
  const types = fleet.aircraftTypes.filter(({ id }) => fleet.aircraft.some(({ typeId }) => typeId === id));
  return orders.reduce((sum, order) => {
    const isStopped = types.some((type) => {
      const judgements = agronomy.judge(order, type, min, { night: false });
      return judgements.length > 0 && judgements.every(({ limit }) => giveWay.includes(limit));
    });
    return isStopped ? sum + agronomy.treatedArea(order).areaHa : sum;
  }, 0);
}
