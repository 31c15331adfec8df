import { useCallback } from "react";
import type { OperationSummary } from "../../../../shared/contracts/operations.ts";
import { get } from "../api/call.ts";
import { common } from "../strings/common.ts";
import { type Asked, useAsked } from "./useAsked.ts";

const keptAs = "calmhour.operation";

export function keepOperation(id: string): void {
  localStorage.setItem(keptAs, id);
}

/** All operations, the one that was last worked with first. */
export function useOperations(): Asked<readonly OperationSummary[]> {
  return useAsked(
    useCallback(async (signal: AbortSignal) => {
      const { operations } = await get<{ operations: OperationSummary[] }>("/api/operations", signal);
      const kept = localStorage.getItem(keptAs);
      return [...operations].sort((a, b) => Number(b.id === kept) - Number(a.id === kept));
    }, []),
  );
}

/** Chooses among operations where there are several. */
export function OperationChoice({
  onChoose,
  operations,
  present,
}: {
  readonly operations: readonly OperationSummary[];
  readonly present: string;
  readonly onChoose: (id: string) => void;
}) {
  if (operations.length < 2) return null;
  const byName = [...operations].sort((a, b) => a.name.localeCompare(b.name));
  return (
    <label className="operationChoice">
      {common.operation}
      <select
        value={present}
        onChange={({ target }) => {
          keepOperation(target.value);
          onChoose(target.value);
        }}
      >
        {byName.map(({ id, name }) => (
          <option key={id} value={id}>
            {name}
          </option>
        ))}
      </select>
    </label>
  );
}
