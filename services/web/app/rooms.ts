import { type ComponentType, type LazyExoticComponent, lazy } from "react";
import type { Role } from "../../../shared/contracts/access.ts";
import type { SessionFacts } from "../../../shared/contracts/session.ts";

export interface RoomProps {
  readonly session: SessionFacts;
  /** What stands in the address behind the room's name. */
  readonly within: readonly string[];
}

export const roomNames = [
  "day",
  "week",
  "orders",
  "fleet",
  "weather",
  "cases",
  "records",
  "people",
  "changes",
] as const;
export type RoomName = (typeof roomNames)[number];

interface Room {
  readonly name: RoomName;
  /** Who sees it; links for a crew's phone see the day alone. */
  readonly for: readonly Role[];
  readonly Screen: LazyExoticComponent<ComponentType<RoomProps>>;
}

/** In the order of the menu: the first that a person may see is where it starts. */
const rooms: readonly Room[] = [
  { name: "week", for: ["dispatcher", "owner"], Screen: lazy(() => import("./week/WeekRoom.tsx")) },
  { name: "day", for: ["crewLead", "dispatcher"], Screen: lazy(() => import("./crew/DayRoom.tsx")) },
  { name: "orders", for: ["dispatcher", "owner"], Screen: lazy(() => import("./orders/OrdersRoom.tsx")) },
  { name: "fleet", for: ["dispatcher", "owner"], Screen: lazy(() => import("./fleet/FleetRoom.tsx")) },
  { name: "weather", for: ["dispatcher", "owner"], Screen: lazy(() => import("./weather/WeatherRoom.tsx")) },
  { name: "cases", for: ["owner", "dispatcher"], Screen: lazy(() => import("./cases/CasesRoom.tsx")) },
  { name: "records", for: ["dispatcher", "owner"], Screen: lazy(() => import("./records/RecordsRoom.tsx")) },
  { name: "people", for: ["administrator"], Screen: lazy(() => import("./people/PeopleRoom.tsx")) },
  { name: "changes", for: ["administrator", "owner"], Screen: lazy(() => import("./people/ChangesRoom.tsx")) },
];

export function roomsOf({ kind, roles }: SessionFacts): readonly Room[] {
  if (kind === "crewLink") return rooms.filter(({ name }) => name === "day");
  return rooms.filter((room) => room.for.some((role) => roles.includes(role)));
}
