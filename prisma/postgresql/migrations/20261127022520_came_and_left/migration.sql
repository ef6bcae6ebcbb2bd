-- AlterTable
ALTER TABLE "Job" ADD COLUMN     "promisedAt" BIGINT;

-- CreateIndex
CREATE INDEX "Job_shopId_promisedAt_idx" ON "Job"("shopId", "promisedAt");

-- When the car really came: the first fact that says it was here.
UPDATE "Job" AS j SET "document" = jsonb_set(j."document"::jsonb, '{cameAt}', to_jsonb(f."at"))::text
FROM (
    SELECT "shopId", "jobId", min("occurredAt") AS "at" FROM "FloorEvent"
    WHERE "fact"::jsonb ->> 'kind' IN ('arrived', 'moved', 'started')
    GROUP BY "shopId", "jobId"
) AS f
WHERE f."shopId" = j."shopId" AND f."jobId" = j."id";

-- When it left: the first pickup told.
UPDATE "Job" AS j SET "document" = jsonb_set(j."document"::jsonb, '{leftAt}', to_jsonb(f."at"))::text
FROM (
    SELECT "shopId", "jobId", min("occurredAt") AS "at" FROM "FloorEvent"
    WHERE "fact"::jsonb ->> 'kind' = 'pickedUp'
    GROUP BY "shopId", "jobId"
) AS f
WHERE f."shopId" = j."shopId" AND f."jobId" = j."id";

-- Where none was told: the first finished handover.
UPDATE "Job" AS j SET "document" = jsonb_set(j."document"::jsonb, '{leftAt}', to_jsonb(f."at"))::text
FROM (
    SELECT e."shopId", e."jobId", r."id" AS "recipeId", min(e."occurredAt") AS "at"
    FROM "FloorEvent" AS e
    JOIN "Recipe" AS r ON r."shopId" = e."shopId"
    CROSS JOIN jsonb_array_elements(r."document"::jsonb -> 'steps') AS s
    WHERE e."fact"::jsonb ->> 'kind' = 'finished' AND s ->> 'kind' = 'handover'
        AND split_part(e."fact"::jsonb ->> 'operation', '.', 1) = s ->> 'key'
    GROUP BY e."shopId", e."jobId", r."id"
) AS f
WHERE f."shopId" = j."shopId" AND f."jobId" = j."id" AND f."recipeId" = j."recipeId"
    AND j."document"::jsonb ->> 'leftAt' IS NULL;

-- Until here "arrivesAt" is the drop-off as told.
UPDATE "Job" SET
    "arrivesAt" = coalesce(
        ("document"::jsonb ->> 'cameAt')::bigint,
        least("arrivesAt", ("document"::jsonb ->> 'leftAt')::bigint)
    ),
    "promisedAt" = ("document"::jsonb -> 'promise' ->> 'pickupAt')::bigint;
UPDATE "Job" SET "leavesAt" = greatest("arrivesAt", coalesce(
    ("document"::jsonb ->> 'leftAt')::bigint,
    "promisedAt",
    ("document"::jsonb ->> 'wantedPickupAt')::bigint,
    "arrivesAt"
));
