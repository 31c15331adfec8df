import { createContext, useContext } from "react";
import type { Fault } from "../../../../../shared/contracts/problem.ts";
import type { Operation } from "../../../../../shared/model/operation.ts";
import { faultsBeside, type Steps } from "./faultPlaces.ts";

/** What the fields of a form know of the document that is written. */
interface Writing {
  readonly operation: Operation;
  readonly faults: readonly Fault[];
  readonly isReadOnly: boolean;
  /** `undefined` takes the value out. */
  readonly put: (place: Steps, value: unknown) => void;
}

const WritingContext = createContext<Writing | null>(null);
export const WritingOf = WritingContext.Provider;

export function useWriting(): Writing {
  const writing = useContext(WritingContext);
  if (writing === null) throw new Error("a field stands outside of its form");
  return writing;
}

export const useFaultsBeside = (place: Steps): string[] => faultsBeside(useWriting().faults, place);
