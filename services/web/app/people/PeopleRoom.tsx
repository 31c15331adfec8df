import { Empty } from "../kit/states.tsx";
import type { RoomProps } from "../rooms.ts";

export default function PeopleRoom(_: RoomProps) {
  return <Empty>People</Empty>;
}
