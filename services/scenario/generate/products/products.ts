import type { ProductDraft } from "../draft.ts";
import { fungicides } from "./fungicides.ts";
import { granules } from "./granules.ts";
import { herbicides } from "./herbicides.ts";
import { insecticides } from "./insecticides.ts";

/**
 * Label facts of the invented operations, by generic active. Intervals with a published source name it in their file; all
 * other figures are our choice in the range that labels of such actives show.
 */
export const products: readonly ProductDraft[] = [...fungicides, ...insecticides, ...herbicides, ...granules];
