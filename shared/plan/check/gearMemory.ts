import type { Product } from "../../model/product.ts";
import type { Method } from "../../model/quantities.ts";
import type { Activity } from "../plan.ts";
import type { Stop } from "./facts.ts";
import { type Ledger, rounding, shown } from "./report.ts";

type CleanOut = Extract<Activity, { kind: "cleanOut" }>;
type MethodChange = Extract<Activity, { kind: "methodChange" }>;

/** What tank and hopper remember through a day. */
export interface GearMemory {
  cleanOut(activity: CleanOut): void;
  methodChange(activity: MethodChange): void;
  work(stop: Stop): void;
}

/** One tank or hopper: the group in it, the products of that group since it was clean, the clean-outs after them. */
interface Gear {
  group: string;
  products: Set<Product>;
  cleanOuts: CleanOut[];
}

/** The rules `cleanOut` and `methodChange`. In the morning everything is clean and no method is fitted yet. */
export function createGearMemory(ledger: Ledger): GearMemory {
  const gearOf: Partial<Record<Method, Gear>> = {};
  /** By aircraft. */
  const lastMethod = new Map<string, Method>();
  let changes: MethodChange[] = [];

  const checkCleanOut = (stop: Stop, gear: Gear) => {
    const { mix, subject } = stop;
    const neededMin = Math.max(...[...gear.products].map((product) => product.cleanOutMin));
    const neededL = Math.max(...[...gear.products].map((product) => product.cleanOutL));
    const made = gear.cleanOuts.find(
      (one) =>
        one.fromGroup === gear.group &&
        one.toGroup === mix.compatibilityGroup &&
        one.endMin - one.startMin >= neededMin &&
        one.waterL >= neededL - rounding,
    );
    // A clean-out is of one gear: it does not serve the other one as well.
    if (made !== undefined)
      for (const other of Object.values(gearOf)) other.cleanOuts = other.cleanOuts.filter((one) => one !== made);
    const isNeeded = neededMin > 0 || neededL > 0;
    ledger.expect("cleanOut", made !== undefined || !isNeeded, subject, () => ({
      sentence: `${mix.compatibilityGroup} follows ${gear.group} in the same gear without a clean-out of ${neededMin} min and ${neededL} L`,
      actual: gear.cleanOuts.map((one) => `${one.endMin - one.startMin} min, ${shown(one.waterL)} L`).join("; "),
      allowed: `${neededMin} min, ${neededL} L`,
    }));
  };

  const isOther = (before: Method | undefined, method: Method) => before !== undefined && before !== method;
  const checkMethodChange = (stop: Stop) => {
    const changing = stop.types.filter((_, at) => isOther(lastMethod.get(stop.aircraft[at]!.id), stop.mix.method));
    const neededMin = Math.max(0, ...changing.map((type) => type.methodChangeMin + type.calibrationMin));
    const longestMin = Math.max(
      0,
      ...changes.filter((one) => one.to === stop.mix.method).map((one) => one.endMin - one.startMin),
    );
    ledger.expect("methodChange", longestMin >= neededMin - rounding, stop.subject, () => ({
      sentence: `block ${stop.block.id} changes to ${stop.mix.method} in ${longestMin} min, ${neededMin} min are needed`,
      actual: longestMin,
      allowed: neededMin,
    }));
  };

  return {
    cleanOut: (activity) => {
      for (const gear of Object.values(gearOf)) gear.cleanOuts.push(activity);
    },
    methodChange: (activity) => {
      changes.push(activity);
    },
    work: (stop) => {
      const { method, compatibilityGroup, products } = stop.mix;
      if (stop.aircraft.some(({ id }) => isOther(lastMethod.get(id), method))) checkMethodChange(stop);
      for (const { id } of stop.aircraft) lastMethod.set(id, method);
      changes = [];
      if (compatibilityGroup === "any") return;
      const gear = gearOf[method];
      if (gear !== undefined && gear.group !== compatibilityGroup) checkCleanOut(stop, gear);
      const keeps = gear?.group === compatibilityGroup ? gear.products : [];
      const loaded = products.filter((product) => product.compatibilityGroup === compatibilityGroup);
      gearOf[method] = {
        group: compatibilityGroup,
        products: new Set([...keeps, ...loaded]),
        cleanOuts: [],
      };
    },
  };
}
