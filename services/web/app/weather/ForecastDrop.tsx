import type { OperationSummary } from "../../../../shared/contracts/operations.ts";
import { TakeInFiles } from "../kit/files/TakeInFiles.tsx";

/** Takes in a new forecast by file: shows what changes first, then stores it as a new version of the operation. `onTaken` is told that version. */
export const ForecastDrop = ({
  onTaken,
  operationId,
}: {
  readonly operationId: string;
  readonly onTaken: (operation: OperationSummary) => void;
}) => <TakeInFiles only="forecast" operationId={operationId} onTaken={onTaken} />;
