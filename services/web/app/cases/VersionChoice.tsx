import { addressOf, go } from "../place.ts";
import { caseWords as words } from "../strings/cases.ts";

/** Opens another version of the set. */
export function VersionChoice({
  id,
  latest,
  version,
}: {
  readonly id: string;
  readonly version: number;
  readonly latest: number;
}) {
  if (latest < 2) return <p className="quiet">{words.version(version)}</p>;
  const versions = Array.from({ length: latest }, (_, at) => latest - at);
  return (
    <label className="inline">
      {words.versionOf}
      <select
        value={version}
        onChange={({ target }) =>
          go(
            target.value === String(latest)
              ? addressOf("cases", "set", id)
              : addressOf("cases", "set", id, target.value),
          )
        }
      >
        {versions.map((one) => (
          <option key={one} value={one}>
            {one === latest ? words.latest(one) : one}
          </option>
        ))}
      </select>
    </label>
  );
}
