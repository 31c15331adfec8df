import { WithOperation } from "../kit/WithOperation.tsx";
import type { RoomProps } from "../rooms.ts";
import { RecordList } from "./RecordList.tsx";
import { RecordView } from "./RecordView.tsx";
import "./records.css";

/** `#records`, `#records/CREW/RECORD` or `#records/CREW/RECORD/VERSION`. */
export default function RecordsRoom({ session, within }: RoomProps) {
  const [crewId, recordId, version] = within;
  const mayChange = session.roles.includes("dispatcher");
  return (
    <WithOperation>
      {({ id }) =>
        crewId && recordId ? (
          <RecordView
            key={`${recordId} ${version}`}
            operationId={id}
            crewId={crewId}
            recordId={recordId}
            version={version ? Number(version) : null}
            mayChange={mayChange}
          />
        ) : (
          <RecordList operationId={id} />
        )
      }
    </WithOperation>
  );
}
