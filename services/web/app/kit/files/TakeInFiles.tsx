import { useState } from "react";
import type { FilesAnswer, OperationSummary, OperationVersion } from "../../../../../shared/contracts/operations.ts";
import type { Fault } from "../../../../../shared/contracts/problem.ts";
import { ask, pathOf, Refusal, SignedOut } from "../../api/call.ts";
import { tellSignedOut } from "../../session/signedOut.ts";
import { fileWords as words } from "../../strings/files.ts";
import { say } from "../Say.tsx";
import { Failure } from "../states.tsx";
import { ChangesTold } from "./ChangesTold.tsx";
import { DropArea } from "./DropArea.tsx";
import { asForecast, type DroppedFiles, goesInto, issuedAsOffered } from "./dropped.ts";
import { FileFaultList } from "./FileFaultList.tsx";
import { PasteTable } from "./PasteTable.tsx";

type Texts = DroppedFiles["texts"];

/** Where the files go: a document of their own, or the operation as it was when it was looked at. */
type Target =
  | { readonly into: "anOperation" }
  | { readonly into: "theOperation"; readonly etag: string; readonly timeZone: string };

type Step =
  | { readonly kind: "waiting" }
  | { readonly kind: "busy"; readonly doing: string }
  | { readonly kind: "refused"; readonly faults: readonly Fault[] }
  | { readonly kind: "failed"; readonly error: Error }
  | { readonly kind: "looked"; readonly texts: Texts; readonly target: Target; readonly answer: FilesAnswer };

/** Files are dropped, looked at, and only then taken in: a whole operation, or single files of the one that is worked with. */
export function TakeInFiles({
  onTaken,
  only,
  operationId,
}: {
  /** Null: there is none yet. */
  readonly operationId: string | null;
  readonly only?: "forecast";
  readonly onTaken: (operation: OperationSummary) => void;
}) {
  const [step, setStep] = useState<Step>({ kind: "waiting" });
  const [issued, setIssued] = useState("");

  const fail = (error: Error) => {
    if (error instanceof SignedOut) tellSignedOut();
    if (error instanceof Refusal && error.faults.length > 0) setStep({ kind: "refused", faults: error.faults });
    else setStep({ kind: "failed", error });
  };
  const look = async ({ texts, faults }: DroppedFiles) => {
    if (faults.length > 0) return setStep({ kind: "refused", faults });
    setStep({ kind: "busy", doing: words.looking });
    const target = await targetOf(Object.keys(texts), operationId);
    const { body: answer } = await send(operationId, { target, texts, look: true });
    if (target.into === "theOperation" && answer.weather) {
      setIssued(issuedAsOffered(new Date(), answer.weather.from, target.timeZone));
    }
    setStep({ kind: "looked", texts, target, answer });
  };
  const take = async (texts: Texts, target: Target) => {
    setStep({ kind: "busy", doing: words.taking });
    const { body } = await send(operationId, { target, texts, look: false, ...(issued === "" ? {} : { issued }) });
    const operation = body.operation!;
    say(body.stored ? words.taken(operation.name, operation.version) : words.nothingNew);
    setStep({ kind: "waiting" });
    onTaken(operation);
  };
  const takeOrLookAgain = (texts: Texts, target: Target) =>
    take(texts, target).catch((error: Error) => {
      if (!(error instanceof Refusal && error.status === 412)) return fail(error);
      say(words.meanwhile, true);
      return look({ texts, faults: [] }).catch(fail);
    });

  const asksWhen = step.kind === "looked" && step.target.into === "theOperation" && "weather.csv" in step.texts;
  return (
    <div className="takeIn">
      {step.kind !== "busy" && (
        <DropArea
          onDropped={(dropped) => {
            setIssued("");
            look(only === "forecast" ? asForecast(dropped) : dropped).catch(fail);
          }}
        />
      )}
      {step.kind !== "busy" && only === "forecast" && (
        <PasteTable
          onPasted={(text) => {
            setIssued("");
            look({ texts: { "weather.csv": text }, faults: [] }).catch(fail);
          }}
        />
      )}
      {step.kind === "busy" && <p role="status">{step.doing}</p>}
      {step.kind === "failed" && <Failure error={step.error} />}
      {step.kind === "refused" && <FileFaultList faults={step.faults} />}
      {step.kind === "looked" && (
        <form
          onSubmit={(event) => {
            event.preventDefault();
            takeOrLookAgain(step.texts, step.target);
          }}
        >
          <p className="quiet">{words.dropped(Object.keys(step.texts))}</p>
          <ChangesTold answer={step.answer} />
          {asksWhen && step.target.into === "theOperation" && (
            <label>
              {words.issued}
              <input type="datetime-local" required value={issued} onChange={({ target }) => setIssued(target.value)} />
              <small>{words.issuedHint(step.target.timeZone)}</small>
            </label>
          )}
          <button type="submit" className="main" disabled={step.answer.changes.length === 0 && !asksWhen}>
            {words.take}
          </button>
        </form>
      )}
    </div>
  );
}

async function targetOf(names: readonly string[], operationId: string | null): Promise<Target> {
  if (operationId === null || goesInto(names, operationId) === "anOperation") return { into: "anOperation" };
  const { body, etag } = await ask<OperationVersion>(pathOf`/api/operations/${operationId}`);
  return { into: "theOperation", etag: etag!, timeZone: body.document.settings.timeZone };
}

function send(
  operationId: string | null,
  {
    issued,
    look,
    target,
    texts,
  }: { readonly target: Target; readonly texts: Texts; readonly look: boolean; readonly issued?: string },
) {
  const query = look ? "?look=yes" : "";
  if (target.into === "anOperation" || operationId === null) {
    return ask<FilesAnswer>(`/api/operation-files${query}`, { method: "POST", body: { files: texts } });
  }
  const when = "weather.csv" in texts && issued !== undefined ? { forecastIssued: issued } : {};
  return ask<FilesAnswer>(`${pathOf`/api/operations/${operationId}/files`}${query}`, {
    method: "PUT",
    body: { files: texts, ...when },
    ifMatch: target.etag,
  });
}
