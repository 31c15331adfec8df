import { becauseMutations } from "./mutations/becauseMutations.ts";
import { dayMutations } from "./mutations/dayMutations.ts";
import { driftMutations } from "./mutations/driftMutations.ts";
import { fuelMutations } from "./mutations/fuelMutations.ts";
import { groundMutations } from "./mutations/groundMutations.ts";
import { hoursMutations } from "./mutations/hoursMutations.ts";
import { inversionMutations } from "./mutations/inversionMutations.ts";
import { lockMutations } from "./mutations/lockMutations.ts";
import { minuteMutations } from "./mutations/minuteMutations.ts";
import type { Mutation } from "./mutations/mutation.ts";
import { nightMutations } from "./mutations/nightMutations.ts";
import { orderMutations } from "./mutations/orderMutations.ts";
import { outfitMutations } from "./mutations/outfitMutations.ts";
import { pauseMutations } from "./mutations/pauseMutations.ts";
import { planFromMutations } from "./mutations/planFromMutations.ts";
import { planMutations } from "./mutations/planMutations.ts";
import { proofMutations } from "./mutations/proofMutations.ts";
import { rainMutations } from "./mutations/rainMutations.ts";
import { weatherMutations } from "./mutations/weatherMutations.ts";
import { workMutations } from "./mutations/workMutations.ts";

export type { Mutation, Pair, Random } from "./mutations/mutation.ts";

/** Ways to break a plan that holds, at least one for every rule of the checker. */
export const mutations: readonly Mutation[] = [
  ...minuteMutations,
  ...weatherMutations,
  ...rainMutations,
  ...inversionMutations,
  ...driftMutations,
  ...orderMutations,
  ...groundMutations,
  ...workMutations,
  ...fuelMutations,
  ...pauseMutations,
  ...outfitMutations,
  ...hoursMutations,
  ...nightMutations,
  ...dayMutations,
  ...planMutations,
  ...becauseMutations,
  ...lockMutations,
  ...planFromMutations,
  ...proofMutations,
];
