import { ordered } from "./compare.ts";
import { nested, repeated } from "./crossReferences.ts";
import type { Fault } from "./faults.ts";
import type { Located, Parts } from "./parts.ts";
import type { Product } from "./product.ts";
import { dropletClasses } from "./quantities.ts";

/** Labels that contradict themselves. */
export function productFaults(parts: Parts): Fault[] {
  const products = parts.products.entries;
  const uses = nested(products, ["uses"], (product) => product.uses);
  const dropletFaults = products.flatMap(({ path, item: { dropletFinest, dropletCoarsest } }) => {
    if (dropletFinest === undefined || dropletCoarsest === undefined) return [];
    if (dropletClasses.indexOf(dropletFinest) <= dropletClasses.indexOf(dropletCoarsest)) return [];
    const expected = `a class no coarser than dropletCoarsest, which is ${dropletCoarsest}`;
    return [{ path: [...path, "dropletFinest"], value: dropletFinest, expected }];
  });
  const unitFaults = products.flatMap(({ path, item: { method, rateUnit } }) =>
    method === "granular" && rateUnit === "L"
      ? [{ path: [...path, "rateUnit"], value: rateUnit, expected: "kg, as for all granules" }]
      : [],
  );
  const cropFaults = products.flatMap(({ path, item }) =>
    repeated(
      item.uses.map((use, at) => ({ path: [...path, "uses", at, "crop"], item: use.crop })),
      "a crop",
    ),
  );
  return [
    ...ordered(
      uses,
      "rateMinPerHa",
      "rateMaxPerHa",
      (use) => use.rateMinPerHa,
      (use) => use.rateMaxPerHa,
    ),
    ...ordered(
      products,
      "windMinKph",
      "windMaxKph",
      (product) => product.windMinKph,
      (product) => product.windMaxKph,
    ),
    ...ordered(
      products,
      "deltaTMinC",
      "deltaTMaxC",
      (product) => product.deltaTMinC,
      (product) => product.deltaTMaxC,
    ),
    ...ordered(
      products,
      "temperatureMinC",
      "temperatureMaxC",
      (product) => product.temperatureMinC,
      (product) => product.temperatureMaxC,
    ),
    ...ordered(
      products,
      "humidityMinPct",
      "humidityMaxPct",
      (product) => product.humidityMinPct,
      (product) => product.humidityMaxPct,
    ),
    ...products.flatMap(bufferFaults),
    ...unitFaults,
    ...dropletFaults,
    ...cropFaults,
  ];
}

/** Conditions of a buffer that can never or must always hold, so that something else was meant. */
function bufferFaults({ path, item: product }: Located<Product>): Fault[] {
  return product.buffers.flatMap((buffer, at): Fault[] => {
    const faultAt = (key: "downwindRule" | "onlyFinerThan", expected: string): Fault => ({
      path: [...path, "buffers", at, key],
      value: buffer[key],
      expected,
    });
    const faults: Fault[] = [];
    if (buffer.downwindRule === "sparesPart" && !buffer.downwindOnly) {
      faults.push(faultAt("downwindRule", "stopsField or nothing, since downwindOnly is false"));
    }
    if (buffer.onlyFinerThan !== undefined && product.method === "granular") {
      faults.push(faultAt("onlyFinerThan", "nothing, since granules have no droplets"));
    } else if (buffer.onlyFinerThan === dropletClasses[0]) {
      faults.push(faultAt("onlyFinerThan", `a class other than ${dropletClasses[0]}, the finest there is`));
    }
    return faults;
  });
}
