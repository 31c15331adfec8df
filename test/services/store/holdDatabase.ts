import pg from "pg";
import { startEmbedded } from "../../../services/store/embedded.ts";

/** Run as a process of its own by the tests: opens the database, writes a row, and waits to be killed. */
const { databaseUrl } = await startEmbedded(process.argv[2]!);
const client = new pg.Client({ connectionString: databaseUrl });
await client.connect();
await client.query("create table held as select 42 as answer");
process.stdout.write(`${databaseUrl}\n`);
setInterval(() => undefined, 60_000);
