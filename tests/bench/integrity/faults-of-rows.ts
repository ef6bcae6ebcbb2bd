import { rowsOf } from './rows.ts';

/** What must find nothing, by what it would mean. Statements that both databases understand. */
const FORBIDDEN: Readonly<Record<string, string>> = {
  'two in one place (occupancy)': `
    SELECT a."shopId", a."placeId", a."startsAt", b."startsAt" AS "second" FROM "Occupancy" a
    JOIN "Occupancy" b ON b."shopId" = a."shopId" AND b."placeId" = a."placeId"
      AND a."startsAt" < b."startsAt" AND b."startsAt" < a."endsAt"`,
  'two in one place (stays of the plan)': `
    SELECT a."shopId", a."placeId", a."jobId", b."jobId" AS "second", b."startsAt" FROM "PlannedStay" a
    JOIN "PlannedStay" b ON b."shopId" = a."shopId" AND b."placeId" = a."placeId" AND b."jobId" <> a."jobId"
      AND a."startsAt" <= b."startsAt" AND b."startsAt" < a."endsAt" AND b."startsAt" < b."endsAt"`,
  'an open job that is not planned': `
    SELECT j."shopId", j."id", j."state" FROM "Job" j
    LEFT JOIN "PlannedJob" p ON p."shopId" = j."shopId" AND p."jobId" = j."id"
    WHERE j."state" IN ('held', 'booked', 'inShop') AND p."jobId" IS NULL`,
  'a closed job that is planned': `
    SELECT j."shopId", j."id", j."state" FROM "Job" j
    JOIN "PlannedJob" p ON p."shopId" = j."shopId" AND p."jobId" = j."id"
    WHERE j."state" NOT IN ('held', 'booked', 'inShop')`,
  'work of a job that the plan does not have': `
    SELECT o."shopId", o."jobId", o."operation" FROM "PlannedOperation" o
    LEFT JOIN "PlannedJob" p ON p."shopId" = o."shopId" AND p."jobId" = o."jobId" WHERE p."jobId" IS NULL`,
  'a job of the plan without work': `
    SELECT p."shopId", p."jobId" FROM "PlannedJob" p
    LEFT JOIN "PlannedOperation" o ON o."shopId" = p."shopId" AND o."jobId" = p."jobId" WHERE o."jobId" IS NULL`,
  'a job of the plan without a stay': `
    SELECT p."shopId", p."jobId" FROM "PlannedJob" p
    LEFT JOIN "PlannedStay" s ON s."shopId" = p."shopId" AND s."jobId" = p."jobId" WHERE s."jobId" IS NULL`,
  'a stay to come without its place': `
    SELECT s."shopId", s."jobId", s."placeId" FROM "PlannedStay" s
    JOIN "Shop" h ON h."id" = s."shopId"
    JOIN "PlanVersion" v ON v."shopId" = s."shopId" AND v."version" = h."planVersion"
    LEFT JOIN "Occupancy" o ON o."shopId" = s."shopId" AND o."placeId" = s."placeId" AND o."jobId" = s."jobId"
      AND o."startsAt" <= s."startsAt" AND o."endsAt" >= s."endsAt"
    WHERE s."startsAt" > v."madeAt" + 3600000 AND o."jobId" IS NULL`,
  'a place kept for a job whose plan has no stay there': `
    SELECT o."shopId", o."placeId", o."jobId" FROM "Occupancy" o
    LEFT JOIN "PlannedStay" s ON s."shopId" = o."shopId" AND s."placeId" = o."placeId" AND s."jobId" = o."jobId"
      AND s."startsAt" < o."endsAt" AND o."startsAt" < s."endsAt"
    WHERE o."jobId" IS NOT NULL AND s."jobId" IS NULL`,
  'a shop whose newest plan is not the one it names': `
    SELECT h."id", h."planVersion", max(v."version") AS "newest" FROM "Shop" h
    LEFT JOIN "PlanVersion" v ON v."shopId" = h."id" GROUP BY h."id", h."planVersion"
    HAVING coalesce(max(v."version"), 0) <> h."planVersion"`,
  'a gap between versions of a plan': `
    SELECT "shopId", count(*) AS "kept", min("version") AS "first", max("version") AS "last" FROM "PlanVersion"
    GROUP BY "shopId" HAVING count(*) <> max("version") - min("version") + 1`,
  'a gap in the news': `
    SELECT e."shopId", count(*) AS "kept", h."outboxSequence" FROM "OutboxEvent" e JOIN "Shop" h ON h."id" = e."shopId"
    GROUP BY e."shopId", h."outboxSequence"
    HAVING max(e."sequence") <> h."outboxSequence" OR count(*) <> max(e."sequence") - min(e."sequence") + 1`,
  'a fact told twice': `
    SELECT "shopId", "clientId", count(*) AS "times" FROM "FloorEvent"
    GROUP BY "shopId", "clientId" HAVING count(*) > 1`,
  'a gap between the facts of a job': `
    SELECT "shopId", "jobId", count(*) AS "kept", max("sequence") AS "last" FROM "FloorEvent"
    GROUP BY "shopId", "jobId" HAVING count(*) <> max("sequence")`,
};

/** What the rows of a database say against one another, a sentence each; found by the database itself, not by the application. */
export async function faultsOfRows(databaseUrl: string): Promise<string[]> {
  const faults: string[] = [];
  for (const [what, statement] of Object.entries(FORBIDDEN)) {
    for (const row of await rowsOf(databaseUrl, statement)) faults.push(`${what}: ${JSON.stringify(row)}`);
  }
  return faults;
}
