/**
 * Fewest routes of Solomon's instances and their real distance. R and RC: README beside the outside instances, checked there against published routes; what it does
 * not have is not here. C1 and C2: the table of best known solutions published by SINTEF, from MEMORY.
 */
export const fewestRoutes: ReadonlyMap<string, { readonly routes: number; readonly distance: number }> = new Map(
  (
    [
      ["R101", 19, 1650.8],
      ["R103", 13, 1292.68],
      ["R105", 14, 1377.11],
      ["R107", 10, 1104.66],
      ["R109", 11, 1194.73],
      ["R111", 10, 1096.73],
      ["R201", 4, 1252.37],
      ["R205", 3, 994.43],
      ["R209", 3, 909.16],
      ["RC101", 14, 1696.95],
      ["RC103", 11, 1261.67],
      ["RC105", 13, 1629.44],
      ["RC201", 4, 1406.94],
      ["RC205", 4, 1297.65],
      ["RC207", 3, 1061.14],
      ["C101", 10, 828.94],
      ["C103", 10, 828.06],
      ["C105", 10, 828.94],
      ["C107", 10, 828.94],
      ["C109", 10, 828.94],
      ["C201", 3, 591.56],
      ["C203", 3, 591.17],
      ["C205", 3, 588.88],
      ["C207", 3, 588.29],
    ] as const
  ).map(([name, routes, distance]) => [name, { routes, distance }]),
);
