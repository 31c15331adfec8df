import { WithOperation } from "../kit/WithOperation.tsx";
import type { RoomProps } from "../rooms.ts";
import "./cases.css";
import { SetScreen } from "./SetScreen.tsx";
import { SetsAndRuns } from "./SetsAndRuns.tsx";
import { StudyScreen } from "./StudyScreen.tsx";

/** `#cases`, `#cases/set/new`, `#cases/set/ID` or with a version behind it, `#cases/copy/ID`, `#cases/run/ID`. */
export default function CasesRoom({ session, within: [what, id, version] }: RoomProps) {
  const mayWrite = session.roles.includes("owner");
  if (what === "run" && id) return <StudyScreen key={id} id={id} />;
  if ((what === "set" || what === "copy") && id && id !== "new") {
    const isCopy = what === "copy";
    return <SetScreen key={`${what} ${id} ${version}`} {...{ id, isCopy, mayWrite }} version={version || null} />;
  }
  return (
    <WithOperation>
      {(operation) =>
        what === "set" && mayWrite ? (
          <SetScreen key={operation.id} id={null} isCopy={false} version={null} mayWrite operationId={operation.id} />
        ) : (
          <SetsAndRuns key={operation.id} operationId={operation.id} mayWrite={mayWrite} />
        )
      }
    </WithOperation>
  );
}
