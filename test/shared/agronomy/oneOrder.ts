import { createAgronomy } from "../../../shared/agronomy/agronomy.ts";
import type { Interval } from "../../../shared/agronomy/intervals.ts";
import { createCalendar } from "../../../shared/model/calendar.ts";
import type { Operation } from "../../../shared/model/operation.ts";
import {
  calendarOf,
  calmAir,
  hourlyWeather,
  type OperationInput,
  rectangleField,
  smallOperation,
  smallStation,
} from "../../support/operation.ts";

type ProductInput = OperationInput["products"][number];
type UseInput = ProductInput["uses"][number];

export interface Situation {
  readonly firstDay?: string;
  readonly days?: number;
  readonly timeZone?: string;
  readonly forecastIssued?: string;
  readonly limits?: NonNullable<OperationInput["settings"]["limits"]>;
  readonly field?: Partial<OperationInput["fields"]["features"][number]["properties"]>;
  /** One label for each product of the mix, laid over one that allows everything. */
  readonly labels?: readonly (Partial<ProductInput> & { readonly use?: Partial<UseInput> })[];
  readonly order?: Partial<OperationInput["orders"][number]>;
  /** By hours from the first midnight; the day before it has negative ones. */
  readonly airOfHour?: (hour: number) => Partial<OperationInput["weather"][number]>;
  /** The first hour whose weather is known, 0 unless said otherwise. */
  readonly knownFromHour?: number;
  readonly weather?: (steps: OperationInput["weather"]) => OperationInput["weather"];
  /** Move the field this far to the north. */
  readonly northDeg?: number;
  readonly sensitive?: NonNullable<OperationInput["sensitive"]>["features"];
}

/** 600 m from west to east and 400 m from south to north. */
export const fieldPlace = { eastM: 3000, northM: 1000, widthM: 600, heightM: 400 };

/** An operation with one field and one order on it, under labels that stop nothing but what the situation says. */
export function situationOf(situation: Situation): Operation {
  const settings = {
    timeZone: situation.timeZone ?? "Europe/Berlin",
    firstDay: situation.firstDay ?? "2027-06-07",
    days: situation.days ?? 3,
    altitudeM: 0,
    forecastIssued: situation.forecastIssued,
    limits: situation.limits ?? {},
  };
  const labels = situation.labels ?? [{}];
  const products = labels.map(
    ({ use, ...label }, index): ProductInput => ({
      id: `P${index + 1}`,
      name: `Product ${index + 1}`,
      registrationNumber: "1",
      active: "none",
      method: "liquid",
      licenceClass: "agri",
      reiHours: 0,
      windMaxKph: 60,
      ...label,
      uses: [{ crop: "wheat", rateMinPerHa: 0.5, rateMaxPerHa: 2, phiDays: 0, ...use }],
    }),
  );
  const field = rectangleField("F1", fieldPlace, situation.field ?? {});
  for (const position of (field.geometry.coordinates as number[][][])[0]!) position[1]! += situation.northDeg ?? 0;
  const airOfHour = situation.airOfHour ?? (() => ({}));
  const weather = [
    ...weatherBefore(settings, situation.knownFromHour ?? 0, airOfHour),
    ...hourlyWeather(settings, smallStation, airOfHour),
  ];
  return smallOperation({
    settings,
    fields: { type: "FeatureCollection", features: [field] },
    sensitive: { type: "FeatureCollection", features: situation.sensitive ?? [] },
    products,
    orders: [
      {
        id: "O-1",
        fieldId: "F1",
        products: products.map(({ id }) => ({ productId: id, ratePerHa: 1 })),
        carrierLPerHa: 15,
        earliest: "2020-01-01T00:00",
        latest: "2040-01-01T00:00",
        priceCentsPerHa: 1000,
        ...situation.order,
      },
    ],
    weather: situation.weather?.(weather) ?? weather,
  });
}

/** A step for every hour from the given one to the first midnight. */
function weatherBefore(
  settings: Pick<OperationInput["settings"], "timeZone" | "firstDay" | "days">,
  fromHour: number,
  airOfHour: NonNullable<Situation["airOfHour"]>,
): OperationInput["weather"] {
  const calendar = createCalendar(settings);
  return Array.from({ length: -fromHour }, (_, index) => ({
    ...smallStation,
    start: calendar.isoOfMin((fromHour + index) * 60),
    stepMin: 60,
    ...calmAir,
    ...airOfHour(fromHour + index),
  }));
}

/** Everything asked of the one order, for the helicopter that may fly at night unless `byDay` is asked for. */
export function answersOf(situation: Situation) {
  const operation = situationOf(situation);
  const calendar = calendarOf(operation);
  const agronomy = createAgronomy(operation, calendar);
  const order = operation.orders[0]!;
  const [multirotor, helicopter] = operation.fleet.aircraftTypes;
  const local = (list: readonly Interval[]) =>
    list.map(({ startMin, endMin }) => [localTime(startMin), localTime(endMin)] as const);
  const localTime = (min: number) => `${calendar.dateOfMin(min)} ${calendar.clockOfMin(min)}`;
  return {
    operation,
    calendar,
    agronomy,
    order,
    multirotor: multirotor!,
    helicopter: helicopter!,
    windows: local(agronomy.windows(order, helicopter!, { night: true }).windows),
    lostMin: agronomy.windows(order, helicopter!, { night: true }).lostMin,
    windowsByDay: local(agronomy.windows(order, helicopter!, { night: false }).windows),
    sentencesAt: (localDateTime: string) =>
      agronomy
        .judge(order, helicopter!, calendar.minOfLocal(localDateTime), { night: true })
        .map(({ limit, sentence }) => `${limit}: ${sentence}`),
  };
}
