import type { ApplicationRecord } from "../../../shared/contracts/applicationRecords.ts";
import { geometryCentroidLonLat } from "../../../shared/geo/convert.ts";
import { type Cell, csvText } from "../tables/csv.ts";
import { aircraftWords, applicatorWords, localWords } from "./recordWords.ts";

/** What the recorded rules name (shared/done/recordFields.ts), a column each, and what goes with it. */
const heads = [
  ...["record_id", "version", "state", "complete", "missing", "grower", "grower_address", "type_of_use"],
  ...["field_id", "field", "land_id", "centre_lat_deg", "centre_lon_deg", "treated_ha", "crop", "eppo_code"],
  ...["growth_stage_bbch", "started", "ended", "time_zone", "product", "registration_number", "restricted_use"],
  ...["amount", "unit", "rate_per_ha", "carrier_l_per_ha", "applicators", "helpers", "spot_application", "method"],
  ...["aircraft", "crew", "order_id", "block_id", "wind_kph", "gust_kph", "wind_from_deg", "temperature_c"],
  ...["humidity_pct", "measured_at", "findings", "notes"],
] as const;

/** A row for every product of every record; a record without products has one row. */
export function recordTable(records: readonly ApplicationRecord[]): string {
  return csvText(heads, records.flatMap(rowsOf));
}

function rowsOf({ id, version, record, complete, missing, findings }: ApplicationRecord): Cell[][] {
  const { timeZone } = record;
  const [lonDeg, latDeg] = geometryCentroidLonLat(record.geometry);
  const first = record.measured[0];
  const products = record.products.length > 0 ? record.products : [null];
  return products.map((product): Cell[] => [
    ...[id, version, record.state, complete ? "yes" : "no", missing.map(({ sentence }) => sentence).join(" | ")],
    ...[record.grower, record.growerAddress, record.typeOfUse, record.fieldId, record.fieldName, record.landId],
    ...[Number(latDeg.toFixed(6)), Number(lonDeg.toFixed(6)), record.treatedHa, record.crop, record.eppoCode],
    ...[record.growthStage === null ? null : `${record.growthStage}`],
    ...[localWords(record.startedAt, timeZone), localWords(record.endedAt, timeZone), timeZone],
    ...[product?.name ?? null, product?.registrationNumber ?? null],
    ...[product === null ? null : product.restrictedUse ? "yes" : "no"],
    ...[product?.amount ?? null, product?.unit ?? null, product?.ratePerHa ?? null, record.carrierLPerHa],
    ...[applicatorWords(record), record.helpers.join("; "), record.spotApplication, record.method],
    ...[aircraftWords(record), record.crewName, record.orderId, record.blockId],
    ...[first?.air.windKph ?? null, first?.air.gustKph ?? null, first?.air.windFromDeg ?? null],
    ...[first?.air.temperatureC ?? null, first?.air.humidityPct ?? null],
    ...[first === undefined ? null : localWords(first.at, timeZone), findings.join(" | "), record.notes],
  ]);
}
