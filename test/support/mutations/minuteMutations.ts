import { addDays } from "../../../shared/model/calendar.ts";
import {
  crewOf,
  type Draft,
  localTime,
  type Mutation,
  minuteOf,
  moveBy,
  mutation,
  onStop,
  pick,
  pickInt,
  stepsAt,
  stopsOf,
  sunOver,
  useOf,
} from "./mutation.ts";

function closure(draft: Draft, fromMin: number, minutes: number, people: boolean) {
  const reason = people ? "pruning" : "irrigation";
  return { from: localTime(draft, fromMin), to: localTime(draft, fromMin + minutes), reason, people };
}

export const minuteMutations: readonly Mutation[] = [
  onStop("dates", "order ends during the work", (draft, stop) => {
    stop.order.latest = localTime(draft, minuteOf(draft, stop));
    return true;
  }),
  onStop("dates", "order begins during the work", (draft, stop) => {
    stop.order.earliest = localTime(draft, minuteOf(draft, stop) + 1);
    return true;
  }),
  mutation("daylight", "crew-day moved to the middle of the night", (draft) => {
    const stop = pick(
      draft,
      stopsOf(draft).filter(
        ({ crewDay, types }) => !(crewOf(draft, crewDay).nightWork && types.every((t) => t.nightCapable)),
      ),
    );
    if (stop === undefined) return false;
    const midnightMin = draft.calendar.minOfDate(draft.calendar.dateOfMin(stop.work.startMin));
    const byMin = midnightMin + pickInt(draft, -60, 20) - stop.work.startMin;
    for (const activity of stop.crewDay.activities) moveBy(activity, byMin);
    return true;
  }),
  mutation("daylight", "nobody may work at night any more", (draft) => {
    const day = 24 * 60;
    draft.operation.settings.limits.flyingDay = {
      from: "sunrise",
      fromOffsetMin: day,
      to: "sunset",
      toOffsetMin: -day,
    };
    for (const crew of draft.operation.fleet.crews) crew.nightWork = false;
    return draft.plan.crewDays.length > 0;
  }),
  onStop("noForecast", "no step covers a minute of the work", (draft, stop) => {
    const gone = stepsAt(draft, minuteOf(draft, stop));
    draft.operation.weather = draft.operation.weather.filter((step) => !gone.includes(step));
    return true;
  }),
  onStop("noForecast", "no step covers the end of the rainfast period", (draft, stop) => {
    const hours = pickInt(draft, 2, 6);
    pick(draft, stop.products)!.rainfastHours = hours;
    const gone = stepsAt(draft, stop.work.endMin + hours * 60 - 1);
    draft.operation.weather = draft.operation.weather.filter((step) => !gone.includes(step));
    return true;
  }),
  onStop("bloom", "a label forbids the crop in bloom", (draft, stop) => {
    const date = draft.calendar.dateOfMin(minuteOf(draft, stop));
    stop.field.bloom = { from: addDays(date, -pickInt(draft, 0, 3)), to: addDays(date, pickInt(draft, 0, 3)) };
    pick(draft, stop.products)!.bloomRule = "forbidden";
    return true;
  }),
  onStop("bloom", "bees fly", (draft, stop) => {
    const min = minuteOf(draft, stop);
    const date = draft.calendar.dateOfMin(min);
    const sun = sunOver(draft, stop, date);
    if (sun === null || min < sun.upMin + 2 || min > sun.downMin - 2) return false;
    stop.field.bloom = { from: date, to: date };
    pick(draft, stop.products)!.bloomRule = "outsideBeeHours";
    draft.operation.settings.limits.beeHours = { startAfterSunriseMin: 0, endBeforeSunsetMin: 0 };
    return true;
  }),
  onStop("closed", "the field is closed for a minute", (draft, stop) => {
    const min = minuteOf(draft, stop);
    stop.field.closures.push(closure(draft, min, 1, false));
    return true;
  }),
  onStop("entry", "somebody enters during the work", (draft, stop) => {
    const min = minuteOf(draft, stop);
    stop.field.entries.push({ from: localTime(draft, min), to: localTime(draft, min + 1), who: "Crop scouts" });
    return true;
  }),
  onStop("rei", "somebody enters too soon after the work", (draft, stop) => {
    const hours = pickInt(draft, 4, 48);
    pick(draft, stop.products)!.reiHours = hours;
    const min = stop.work.endMin + pickInt(draft, 0, hours * 60 - 1);
    stop.field.entries.push({ from: localTime(draft, min), to: localTime(draft, min + 60), who: "Crop scouts" });
    return true;
  }),
  onStop("rei", "workers come too soon after the work", (draft, stop) => {
    const hours = pickInt(draft, 4, 48);
    pick(draft, stop.products)!.reiHours = hours;
    stop.field.closures.push(closure(draft, stop.work.endMin + pickInt(draft, 0, hours * 60 - 1), 60, true));
    return true;
  }),
  mutation("rei", "what closes the field too soon after the work turns out to be people", (draft) => {
    const closures = stopsOf(draft).flatMap(({ field, products, work }) =>
      field.closures
        .map((one) => ({ one, products, waitMin: draft.calendar.minOfLocal(one.from) - work.endMin }))
        .filter(({ one, waitMin }) => !one.people && waitMin >= 0),
    );
    const found = pick(draft, closures);
    if (found === undefined) return false;
    found.one.people = true;
    pick(draft, found.products)!.reiHours = (found.waitMin + 1) / 60;
    return true;
  }),
  onStop("phi", "harvest too soon by the label's days", (draft, stop) => {
    const days = pickInt(draft, 1, 30);
    useOf(draft, stop).use.phiDays = days;
    stop.field.harvestDate = addDays(draft.calendar.dateOfMin(stop.work.endMin - 1), days - 1);
    return true;
  }),
  onStop("phi", "harvest begins before people may enter again", (draft, stop) => {
    const date = addDays(draft.calendar.dateOfMin(stop.work.endMin - 1), 1);
    stop.field.harvestDate = date;
    const freeHours = (draft.calendar.minOfDate(date) - stop.work.endMin) / 60;
    for (const product of stop.products) for (const use of product.uses) use.phiDays = 0;
    pick(draft, stop.products)!.reiHours = freeHours + 0.1;
    return true;
  }),
  onStop("retreatment", "applied a day too lately before", (draft, stop) => {
    const { product, use, ratePerHa } = useOf(draft, stop);
    const days = pickInt(draft, 1, 20);
    use.retreatmentDays = days;
    const date = addDays(draft.calendar.dateOfMin(stop.work.startMin), 1 - days);
    stop.field.pastApplications.push({ productId: product.id, endedAt: `${date}T00:00`, ratePerHa });
    return true;
  }),
  mutation("retreatment", "two orders too near to each other", (draft) => {
    const stops = stopsOf(draft);
    const pairs = stops.flatMap((a) =>
      stops
        .filter((b) => b.order !== a.order && b.field === a.field && b.work.startMin >= a.work.endMin)
        .flatMap((b) =>
          a.products.filter((product) => b.products.includes(product)).map((product) => ({ a, product })),
        ),
    );
    const found = pick(draft, pairs);
    if (found === undefined) return false;
    for (const use of found.product.uses) use.retreatmentDays = 40;
    return true;
  }),
];
