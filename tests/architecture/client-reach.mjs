// What the browser gets: a 'use client' file with all it imports by value. It reaches the server only
// through a route's actions.ts, which Next replaces by calls, and never carries the file readers.
const FORBIDDEN = /^(lib\/(server|cli|core\/intake)|seed|prisma)\//;

const isErased = (dependency) =>
  dependency.typeOnly === true || dependency.dependencyTypes.includes('type-only');

/**
 * Ways from a client file to a forbidden one.
 *
 * @param modules dependency-cruiser's modules
 * @param isClient tells from its path whether a file starts with 'use client'
 * @returns one text for each client file and forbidden file, the whole way in it
 */
export function findClientReach(modules, isClient) {
  const bySource = new Map(modules.map((module) => [module.source, module]));
  return modules.flatMap(({ source }) => (isClient(source) ? waysFrom(source, bySource) : []));
}

function waysFrom(start, bySource) {
  const cameFrom = new Map([[start, null]]);
  const queue = [start];
  const found = [];
  for (const at of queue) {
    if (FORBIDDEN.test(at)) {
      found.push(`client-reach: ${wayTo(at, cameFrom)}`);
      continue;
    }
    if (/\/actions\.ts$/.test(at)) continue;
    for (const dependency of bySource.get(at)?.dependencies ?? []) {
      if (isErased(dependency) || cameFrom.has(dependency.resolved)) continue;
      cameFrom.set(dependency.resolved, at);
      queue.push(dependency.resolved);
    }
  }
  return found;
}

function wayTo(end, cameFrom) {
  const way = [];
  for (let at = end; at !== null; at = cameFrom.get(at)) way.unshift(at);
  return way.join(' -> ');
}
