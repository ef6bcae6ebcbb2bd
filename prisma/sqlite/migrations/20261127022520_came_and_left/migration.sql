-- AlterTable
ALTER TABLE "Job" ADD COLUMN "promisedAt" BIGINT;

-- CreateIndex
CREATE INDEX "Job_shopId_promisedAt_idx" ON "Job"("shopId", "promisedAt");

-- When the car really came: the first fact that says it was here.
UPDATE "Job" SET "document" = json_set("document", '$.cameAt', (
    SELECT min(e."occurredAt") FROM "FloorEvent" AS e
    WHERE e."shopId" = "Job"."shopId" AND e."jobId" = "Job"."id"
        AND json_extract(e."fact", '$.kind') IN ('arrived', 'moved', 'started')
)) WHERE EXISTS (
    SELECT 1 FROM "FloorEvent" AS e
    WHERE e."shopId" = "Job"."shopId" AND e."jobId" = "Job"."id"
        AND json_extract(e."fact", '$.kind') IN ('arrived', 'moved', 'started')
);

-- When it left: the first pickup told.
UPDATE "Job" SET "document" = json_set("document", '$.leftAt', (
    SELECT min(e."occurredAt") FROM "FloorEvent" AS e
    WHERE e."shopId" = "Job"."shopId" AND e."jobId" = "Job"."id" AND json_extract(e."fact", '$.kind') = 'pickedUp'
)) WHERE EXISTS (
    SELECT 1 FROM "FloorEvent" AS e
    WHERE e."shopId" = "Job"."shopId" AND e."jobId" = "Job"."id" AND json_extract(e."fact", '$.kind') = 'pickedUp'
);

-- Where none was told: the first finished handover.
UPDATE "Job" SET "document" = coalesce((
    SELECT json_set("Job"."document", '$.leftAt', min(e."occurredAt"))
    FROM "FloorEvent" AS e
    JOIN "Recipe" AS r ON r."shopId" = e."shopId" AND r."id" = "Job"."recipeId"
    JOIN json_each(r."document", '$.steps') AS s ON json_extract(s.value, '$.kind') = 'handover'
    WHERE e."shopId" = "Job"."shopId" AND e."jobId" = "Job"."id" AND json_extract(e."fact", '$.kind') = 'finished'
        AND substr(json_extract(e."fact", '$.operation') || '.', 1, length(json_extract(s.value, '$.key')) + 1)
            = json_extract(s.value, '$.key') || '.'
    HAVING count(*) > 0
), "document") WHERE json_extract("document", '$.leftAt') IS NULL;

-- Until here "arrivesAt" is the drop-off as told.
UPDATE "Job" SET
    "arrivesAt" = coalesce(
        json_extract("document", '$.cameAt'),
        min("arrivesAt", coalesce(json_extract("document", '$.leftAt'), "arrivesAt"))
    ),
    "promisedAt" = json_extract("document", '$.promise.pickupAt');
UPDATE "Job" SET "leavesAt" = max("arrivesAt", coalesce(
    json_extract("document", '$.leftAt'),
    "promisedAt",
    json_extract("document", '$.wantedPickupAt'),
    "arrivesAt"
));
