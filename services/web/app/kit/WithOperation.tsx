import { type ReactNode, useState } from "react";
import type { OperationSummary } from "../../../../shared/contracts/operations.ts";
import { common } from "../strings/common.ts";
import { Empty, Shown } from "./states.tsx";
import { OperationChoice, useOperations } from "./useOperation.tsx";

/** What is about one operation: the one that was last worked with, or another that is chosen. `again` asks for the operations anew, as after an import. */
export function WithOperation({
  children,
  whenNone = <Empty>{common.nothingStored}</Empty>,
}: {
  readonly children: (operation: OperationSummary, again: () => void) => ReactNode;
  readonly whenNone?: ReactNode | ((again: () => void) => ReactNode);
}) {
  const asked = useOperations();
  const [chosen, setChosen] = useState<string | null>(null);
  return (
    <Shown asked={asked}>
      {(operations) => {
        const operation = operations.find(({ id }) => id === chosen) ?? operations[0];
        if (operation === undefined) return typeof whenNone === "function" ? whenNone(asked.again) : whenNone;
        return (
          <>
            <OperationChoice operations={operations} present={operation.id} onChoose={setChosen} />
            {children(operation, asked.again)}
          </>
        );
      }}
    </Shown>
  );
}
