import type { Said } from "../threads/askedThread.ts";
import type { MadeView, RecordPaper, Viewed, Wanted } from "./wanted.ts";

export type ViewQuestion =
  | { readonly kind: "ofPlan"; readonly planId: string; readonly wanted: Wanted }
  /** Once the thread has said that it needs the plan. */
  | { readonly kind: "keep"; readonly planId: string; readonly viewed: Viewed }
  | { readonly kind: "record"; readonly paper: RecordPaper };

export type ViewAnswer =
  | { readonly kind: "needs" }
  | { readonly kind: "kept" }
  /** Null where the plan has nothing of the kind. */
  | { readonly kind: "made"; readonly view: MadeView | null };

export type ToViewThread = ViewQuestion & { readonly id: number };
export type FromViewThread = Said<ViewAnswer>;
