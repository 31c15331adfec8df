import { useCallback } from "react";
import type { OperationVersion } from "../../../../../shared/contracts/operations.ts";
import { get, pathOf } from "../../api/call.ts";
import type { Shape } from "../form/shape.ts";
import { type Asked, useAsked } from "../useAsked.ts";

/** The whole operation, as it is stored now. */
export function useDocument(operationId: string): Asked<OperationVersion> {
  return useAsked(
    useCallback(
      (signal: AbortSignal) => get<OperationVersion>(pathOf`/api/operations/${operationId}`, signal),
      [operationId],
    ),
  );
}

export type Shapes = Readonly<Record<string, Shape>>;
const askForShapes = (signal: AbortSignal) => get<Shapes>("/shapes.json", signal);

/** What forms are made of; a file of the screens themselves. */
export const useShapes = (): Asked<Shapes> => useAsked(askForShapes);
