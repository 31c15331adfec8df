import type { OperationSummary } from "../../../../shared/contracts/operations.ts";

/** Takes in a new forecast by file: shows what changes first, then stores it as a new version of the operation. `onTaken` is told that version. */
export function ForecastDrop(_: {
  readonly operationId: string;
  readonly onTaken: (operation: OperationSummary) => void;
}) {
  return null;
}
