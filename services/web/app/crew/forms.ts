import type { SheetStop } from "../../../../shared/plan/crewSheet.ts";
import type { Told } from "./makeReport.ts";
import type { StopStand } from "./stands.ts";

/** What every form of the stop that is reported on is given. */
export interface FormProps {
  readonly stop: SheetStop;
  readonly stand: StopStand;
  readonly onTell: (told: Told) => void;
  readonly onClose: () => void;
}
