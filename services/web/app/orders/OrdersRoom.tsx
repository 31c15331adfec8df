import { WithOperation } from "../kit/WithOperation.tsx";
import type { RoomProps } from "../rooms.ts";

export default function OrdersRoom(_: RoomProps) {
  return <WithOperation>{(operation) => <h1>{operation.name}</h1>}</WithOperation>;
}
