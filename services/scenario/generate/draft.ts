import type { z } from "zod";
import type { fieldFeatureSchema, fieldPropertiesSchema, sensitiveFeatureSchema } from "../../../shared/model/field.ts";
import type { aircraftTypeSchema, crewSchema, fleetSchema } from "../../../shared/model/fleet.ts";
import type { operationSchema } from "../../../shared/model/operation.ts";
import type { orderSchema } from "../../../shared/model/order.ts";
import type { productSchema } from "../../../shared/model/product.ts";
import type { settingsSchema } from "../../../shared/model/settings.ts";
import type { weatherStepSchema } from "../../../shared/model/weather.ts";

/** An operation as it is written by hand: ids are plain text, what has a default may be left out. */
export type OperationDraft = z.input<typeof operationSchema>;
export type SettingsDraft = z.input<typeof settingsSchema>;
export type FieldDraft = z.input<typeof fieldFeatureSchema>;
export type FieldPropertiesDraft = z.input<typeof fieldPropertiesSchema>;
export type SensitiveDraft = z.input<typeof sensitiveFeatureSchema>;
export type ProductDraft = z.input<typeof productSchema>;
export type OrderDraft = z.input<typeof orderSchema>;
export type FleetDraft = z.input<typeof fleetSchema>;
export type AircraftTypeDraft = z.input<typeof aircraftTypeSchema>;
export type CrewDraft = z.input<typeof crewSchema>;
export type WeatherStepDraft = z.input<typeof weatherStepSchema>;
