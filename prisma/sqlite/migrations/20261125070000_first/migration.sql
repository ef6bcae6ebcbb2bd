-- CreateTable
CREATE TABLE "Shop" (
    "id" TEXT NOT NULL PRIMARY KEY,
    "version" INTEGER NOT NULL,
    "updatedAt" BIGINT NOT NULL,
    "document" TEXT NOT NULL,
    "planVersion" INTEGER NOT NULL DEFAULT 0,
    "outboxSequence" INTEGER NOT NULL DEFAULT 0,
    "readingNumber" INTEGER NOT NULL DEFAULT 0
);

-- CreateTable
CREATE TABLE "AirZone" (
    "shopId" TEXT NOT NULL,
    "id" TEXT NOT NULL,
    "version" INTEGER NOT NULL,
    "updatedAt" BIGINT NOT NULL,
    "document" TEXT NOT NULL,

    PRIMARY KEY ("shopId", "id"),
    CONSTRAINT "AirZone_shopId_fkey" FOREIGN KEY ("shopId") REFERENCES "Shop" ("id") ON DELETE RESTRICT ON UPDATE RESTRICT
);

-- CreateTable
CREATE TABLE "Place" (
    "shopId" TEXT NOT NULL,
    "id" TEXT NOT NULL,
    "version" INTEGER NOT NULL,
    "updatedAt" BIGINT NOT NULL,
    "document" TEXT NOT NULL,
    "airZoneId" TEXT,

    PRIMARY KEY ("shopId", "id"),
    CONSTRAINT "Place_shopId_fkey" FOREIGN KEY ("shopId") REFERENCES "Shop" ("id") ON DELETE RESTRICT ON UPDATE RESTRICT,
    CONSTRAINT "Place_shopId_airZoneId_fkey" FOREIGN KEY ("shopId", "airZoneId") REFERENCES "AirZone" ("shopId", "id") ON DELETE RESTRICT ON UPDATE RESTRICT
);

-- CreateTable
CREATE TABLE "PlaceBlock" (
    "shopId" TEXT NOT NULL,
    "placeId" TEXT NOT NULL,
    "blockedById" TEXT NOT NULL,

    PRIMARY KEY ("shopId", "placeId", "blockedById"),
    CONSTRAINT "PlaceBlock_shopId_placeId_fkey" FOREIGN KEY ("shopId", "placeId") REFERENCES "Place" ("shopId", "id") ON DELETE CASCADE ON UPDATE RESTRICT,
    CONSTRAINT "PlaceBlock_shopId_blockedById_fkey" FOREIGN KEY ("shopId", "blockedById") REFERENCES "Place" ("shopId", "id") ON DELETE RESTRICT ON UPDATE RESTRICT
);

-- CreateTable
CREATE TABLE "Technician" (
    "shopId" TEXT NOT NULL,
    "id" TEXT NOT NULL,
    "version" INTEGER NOT NULL,
    "updatedAt" BIGINT NOT NULL,
    "document" TEXT NOT NULL,

    PRIMARY KEY ("shopId", "id"),
    CONSTRAINT "Technician_shopId_fkey" FOREIGN KEY ("shopId") REFERENCES "Shop" ("id") ON DELETE RESTRICT ON UPDATE RESTRICT
);

-- CreateTable
CREATE TABLE "TechnicianCertificate" (
    "shopId" TEXT NOT NULL,
    "technicianId" TEXT NOT NULL,
    "coatingId" TEXT NOT NULL,

    PRIMARY KEY ("shopId", "technicianId", "coatingId"),
    CONSTRAINT "TechnicianCertificate_shopId_technicianId_fkey" FOREIGN KEY ("shopId", "technicianId") REFERENCES "Technician" ("shopId", "id") ON DELETE CASCADE ON UPDATE RESTRICT,
    CONSTRAINT "TechnicianCertificate_shopId_coatingId_fkey" FOREIGN KEY ("shopId", "coatingId") REFERENCES "Coating" ("shopId", "id") ON DELETE RESTRICT ON UPDATE RESTRICT
);

-- CreateTable
CREATE TABLE "Equipment" (
    "shopId" TEXT NOT NULL,
    "id" TEXT NOT NULL,
    "version" INTEGER NOT NULL,
    "updatedAt" BIGINT NOT NULL,
    "document" TEXT NOT NULL,
    "airZoneId" TEXT,

    PRIMARY KEY ("shopId", "id"),
    CONSTRAINT "Equipment_shopId_fkey" FOREIGN KEY ("shopId") REFERENCES "Shop" ("id") ON DELETE RESTRICT ON UPDATE RESTRICT,
    CONSTRAINT "Equipment_shopId_airZoneId_fkey" FOREIGN KEY ("shopId", "airZoneId") REFERENCES "AirZone" ("shopId", "id") ON DELETE RESTRICT ON UPDATE RESTRICT
);

-- CreateTable
CREATE TABLE "Coating" (
    "shopId" TEXT NOT NULL,
    "id" TEXT NOT NULL,
    "version" INTEGER NOT NULL,
    "updatedAt" BIGINT NOT NULL,
    "document" TEXT NOT NULL,

    PRIMARY KEY ("shopId", "id"),
    CONSTRAINT "Coating_shopId_fkey" FOREIGN KEY ("shopId") REFERENCES "Shop" ("id") ON DELETE RESTRICT ON UPDATE RESTRICT
);

-- CreateTable
CREATE TABLE "Recipe" (
    "shopId" TEXT NOT NULL,
    "id" TEXT NOT NULL,
    "version" INTEGER NOT NULL,
    "updatedAt" BIGINT NOT NULL,
    "document" TEXT NOT NULL,

    PRIMARY KEY ("shopId", "id"),
    CONSTRAINT "Recipe_shopId_fkey" FOREIGN KEY ("shopId") REFERENCES "Shop" ("id") ON DELETE RESTRICT ON UPDATE RESTRICT
);

-- CreateTable
CREATE TABLE "RecipeCoating" (
    "shopId" TEXT NOT NULL,
    "recipeId" TEXT NOT NULL,
    "coatingId" TEXT NOT NULL,

    PRIMARY KEY ("shopId", "recipeId", "coatingId"),
    CONSTRAINT "RecipeCoating_shopId_recipeId_fkey" FOREIGN KEY ("shopId", "recipeId") REFERENCES "Recipe" ("shopId", "id") ON DELETE CASCADE ON UPDATE RESTRICT,
    CONSTRAINT "RecipeCoating_shopId_coatingId_fkey" FOREIGN KEY ("shopId", "coatingId") REFERENCES "Coating" ("shopId", "id") ON DELETE RESTRICT ON UPDATE RESTRICT
);

-- CreateTable
CREATE TABLE "Job" (
    "shopId" TEXT NOT NULL,
    "id" TEXT NOT NULL,
    "version" INTEGER NOT NULL,
    "updatedAt" BIGINT NOT NULL,
    "document" TEXT NOT NULL,
    "state" TEXT NOT NULL,
    "recipeId" TEXT NOT NULL,
    "dropOffById" TEXT,
    "pickupById" TEXT,
    "arrivesAt" BIGINT NOT NULL,
    "leavesAt" BIGINT NOT NULL,
    "searchText" TEXT NOT NULL,

    PRIMARY KEY ("shopId", "id"),
    CONSTRAINT "Job_shopId_fkey" FOREIGN KEY ("shopId") REFERENCES "Shop" ("id") ON DELETE RESTRICT ON UPDATE RESTRICT,
    CONSTRAINT "Job_shopId_recipeId_fkey" FOREIGN KEY ("shopId", "recipeId") REFERENCES "Recipe" ("shopId", "id") ON DELETE RESTRICT ON UPDATE RESTRICT,
    CONSTRAINT "Job_shopId_dropOffById_fkey" FOREIGN KEY ("shopId", "dropOffById") REFERENCES "Technician" ("shopId", "id") ON DELETE RESTRICT ON UPDATE RESTRICT,
    CONSTRAINT "Job_shopId_pickupById_fkey" FOREIGN KEY ("shopId", "pickupById") REFERENCES "Technician" ("shopId", "id") ON DELETE RESTRICT ON UPDATE RESTRICT
);

-- CreateTable
CREATE TABLE "FloorEvent" (
    "shopId" TEXT NOT NULL,
    "jobId" TEXT NOT NULL,
    "sequence" INTEGER NOT NULL,
    "clientId" TEXT NOT NULL,
    "occurredAt" BIGINT NOT NULL,
    "recordedAt" BIGINT NOT NULL,
    "fact" TEXT NOT NULL,

    PRIMARY KEY ("shopId", "jobId", "sequence"),
    CONSTRAINT "FloorEvent_shopId_jobId_fkey" FOREIGN KEY ("shopId", "jobId") REFERENCES "Job" ("shopId", "id") ON DELETE RESTRICT ON UPDATE RESTRICT
);

-- CreateTable
CREATE TABLE "Reading" (
    "shopId" TEXT NOT NULL,
    "number" INTEGER NOT NULL,
    "airZoneId" TEXT NOT NULL,
    "jobId" TEXT,
    "at" BIGINT NOT NULL,
    "source" TEXT NOT NULL,
    "document" TEXT NOT NULL,

    PRIMARY KEY ("shopId", "number"),
    CONSTRAINT "Reading_shopId_airZoneId_fkey" FOREIGN KEY ("shopId", "airZoneId") REFERENCES "AirZone" ("shopId", "id") ON DELETE RESTRICT ON UPDATE RESTRICT,
    CONSTRAINT "Reading_shopId_jobId_fkey" FOREIGN KEY ("shopId", "jobId") REFERENCES "Job" ("shopId", "id") ON DELETE RESTRICT ON UPDATE RESTRICT
);

-- CreateTable
CREATE TABLE "PlanVersion" (
    "shopId" TEXT NOT NULL,
    "version" INTEGER NOT NULL,
    "madeAt" BIGINT NOT NULL,
    "summary" TEXT NOT NULL,
    "document" TEXT NOT NULL,

    PRIMARY KEY ("shopId", "version"),
    CONSTRAINT "PlanVersion_shopId_fkey" FOREIGN KEY ("shopId") REFERENCES "Shop" ("id") ON DELETE CASCADE ON UPDATE RESTRICT
);

-- CreateTable
CREATE TABLE "PlannedJob" (
    "shopId" TEXT NOT NULL,
    "jobId" TEXT NOT NULL,
    "document" TEXT NOT NULL,

    PRIMARY KEY ("shopId", "jobId"),
    CONSTRAINT "PlannedJob_shopId_jobId_fkey" FOREIGN KEY ("shopId", "jobId") REFERENCES "Job" ("shopId", "id") ON DELETE RESTRICT ON UPDATE RESTRICT
);

-- CreateTable
CREATE TABLE "PlannedOperation" (
    "shopId" TEXT NOT NULL,
    "jobId" TEXT NOT NULL,
    "operation" TEXT NOT NULL,
    "startsAt" BIGINT NOT NULL,
    "endsAt" BIGINT NOT NULL,
    "placeId" TEXT,
    "document" TEXT NOT NULL,

    PRIMARY KEY ("shopId", "jobId", "operation"),
    CONSTRAINT "PlannedOperation_shopId_jobId_fkey" FOREIGN KEY ("shopId", "jobId") REFERENCES "Job" ("shopId", "id") ON DELETE RESTRICT ON UPDATE RESTRICT,
    CONSTRAINT "PlannedOperation_shopId_placeId_fkey" FOREIGN KEY ("shopId", "placeId") REFERENCES "Place" ("shopId", "id") ON DELETE RESTRICT ON UPDATE RESTRICT
);

-- CreateTable
CREATE TABLE "PlannedPerson" (
    "shopId" TEXT NOT NULL,
    "technicianId" TEXT NOT NULL,
    "jobId" TEXT NOT NULL,
    "operation" TEXT NOT NULL,
    "startsAt" BIGINT NOT NULL,
    "endsAt" BIGINT NOT NULL,

    PRIMARY KEY ("shopId", "technicianId", "jobId", "operation"),
    CONSTRAINT "PlannedPerson_shopId_technicianId_fkey" FOREIGN KEY ("shopId", "technicianId") REFERENCES "Technician" ("shopId", "id") ON DELETE RESTRICT ON UPDATE RESTRICT,
    CONSTRAINT "PlannedPerson_shopId_jobId_operation_fkey" FOREIGN KEY ("shopId", "jobId", "operation") REFERENCES "PlannedOperation" ("shopId", "jobId", "operation") ON DELETE CASCADE ON UPDATE RESTRICT
);

-- CreateTable
CREATE TABLE "PlannedStay" (
    "shopId" TEXT NOT NULL,
    "jobId" TEXT NOT NULL,
    "position" INTEGER NOT NULL,
    "startsAt" BIGINT NOT NULL,
    "endsAt" BIGINT NOT NULL,
    "placeId" TEXT NOT NULL,

    PRIMARY KEY ("shopId", "jobId", "position"),
    CONSTRAINT "PlannedStay_shopId_jobId_fkey" FOREIGN KEY ("shopId", "jobId") REFERENCES "Job" ("shopId", "id") ON DELETE RESTRICT ON UPDATE RESTRICT,
    CONSTRAINT "PlannedStay_shopId_placeId_fkey" FOREIGN KEY ("shopId", "placeId") REFERENCES "Place" ("shopId", "id") ON DELETE RESTRICT ON UPDATE RESTRICT
);

-- CreateTable
CREATE TABLE "Occupancy" (
    "shopId" TEXT NOT NULL,
    "placeId" TEXT NOT NULL,
    "startsAt" BIGINT NOT NULL,
    "endsAt" BIGINT NOT NULL,
    "owner" TEXT NOT NULL,
    "expiresAt" BIGINT,

    PRIMARY KEY ("shopId", "placeId", "startsAt"),
    CONSTRAINT "Occupancy_shopId_placeId_fkey" FOREIGN KEY ("shopId", "placeId") REFERENCES "Place" ("shopId", "id") ON DELETE RESTRICT ON UPDATE RESTRICT
);

-- CreateTable
CREATE TABLE "OutboxEvent" (
    "shopId" TEXT NOT NULL,
    "sequence" INTEGER NOT NULL,
    "kind" TEXT NOT NULL,
    "subject" TEXT NOT NULL,
    "at" BIGINT NOT NULL,
    "body" TEXT NOT NULL,

    PRIMARY KEY ("shopId", "sequence"),
    CONSTRAINT "OutboxEvent_shopId_fkey" FOREIGN KEY ("shopId") REFERENCES "Shop" ("id") ON DELETE CASCADE ON UPDATE RESTRICT
);

-- CreateTable
CREATE TABLE "RequestReply" (
    "shopId" TEXT NOT NULL,
    "principal" TEXT NOT NULL,
    "route" TEXT NOT NULL,
    "key" TEXT NOT NULL,
    "bodyHash" TEXT NOT NULL,
    "state" TEXT NOT NULL,
    "createdAt" BIGINT NOT NULL,
    "status" INTEGER,
    "headers" TEXT,
    "body" TEXT,

    PRIMARY KEY ("shopId", "principal", "route", "key")
);

-- CreateIndex
CREATE INDEX "Place_shopId_airZoneId_idx" ON "Place"("shopId", "airZoneId");

-- CreateIndex
CREATE INDEX "PlaceBlock_shopId_blockedById_idx" ON "PlaceBlock"("shopId", "blockedById");

-- CreateIndex
CREATE INDEX "TechnicianCertificate_shopId_coatingId_idx" ON "TechnicianCertificate"("shopId", "coatingId");

-- CreateIndex
CREATE INDEX "Equipment_shopId_airZoneId_idx" ON "Equipment"("shopId", "airZoneId");

-- CreateIndex
CREATE INDEX "RecipeCoating_shopId_coatingId_idx" ON "RecipeCoating"("shopId", "coatingId");

-- CreateIndex
CREATE INDEX "Job_shopId_arrivesAt_id_idx" ON "Job"("shopId", "arrivesAt", "id");

-- CreateIndex
CREATE INDEX "Job_shopId_state_arrivesAt_idx" ON "Job"("shopId", "state", "arrivesAt");

-- CreateIndex
CREATE INDEX "Job_shopId_recipeId_idx" ON "Job"("shopId", "recipeId");

-- CreateIndex
CREATE INDEX "FloorEvent_shopId_recordedAt_idx" ON "FloorEvent"("shopId", "recordedAt");

-- CreateIndex
CREATE INDEX "FloorEvent_shopId_occurredAt_idx" ON "FloorEvent"("shopId", "occurredAt");

-- CreateIndex
CREATE UNIQUE INDEX "FloorEvent_shopId_clientId_key" ON "FloorEvent"("shopId", "clientId");

-- CreateIndex
CREATE INDEX "Reading_shopId_airZoneId_at_idx" ON "Reading"("shopId", "airZoneId", "at");

-- CreateIndex
CREATE INDEX "Reading_shopId_at_idx" ON "Reading"("shopId", "at");

-- CreateIndex
CREATE INDEX "PlannedOperation_shopId_startsAt_idx" ON "PlannedOperation"("shopId", "startsAt");

-- CreateIndex
CREATE INDEX "PlannedOperation_shopId_placeId_startsAt_idx" ON "PlannedOperation"("shopId", "placeId", "startsAt");

-- CreateIndex
CREATE INDEX "PlannedPerson_shopId_technicianId_startsAt_idx" ON "PlannedPerson"("shopId", "technicianId", "startsAt");

-- CreateIndex
CREATE INDEX "PlannedPerson_shopId_jobId_operation_idx" ON "PlannedPerson"("shopId", "jobId", "operation");

-- CreateIndex
CREATE INDEX "PlannedStay_shopId_placeId_startsAt_idx" ON "PlannedStay"("shopId", "placeId", "startsAt");

-- CreateIndex
CREATE INDEX "PlannedStay_shopId_startsAt_idx" ON "PlannedStay"("shopId", "startsAt");

-- CreateIndex
CREATE INDEX "Occupancy_shopId_owner_idx" ON "Occupancy"("shopId", "owner");

-- CreateIndex
CREATE INDEX "RequestReply_createdAt_idx" ON "RequestReply"("createdAt");


-- Written by hand: no two stretches of one place overlap, and none is empty. Looked for at every start.
CREATE TRIGGER "Occupancy_no_overlap_insert" BEFORE INSERT ON "Occupancy" FOR EACH ROW
BEGIN
    SELECT RAISE(ABORT, 'occupancy is empty') WHERE NEW."startsAt" >= NEW."endsAt";
    SELECT RAISE(ABORT, 'double booking') WHERE EXISTS (
        SELECT 1 FROM "Occupancy" AS other
        WHERE other."shopId" = NEW."shopId" AND other."placeId" = NEW."placeId"
          AND other."startsAt" < NEW."endsAt" AND other."endsAt" > NEW."startsAt"
    );
END;

CREATE TRIGGER "Occupancy_no_overlap_update" BEFORE UPDATE ON "Occupancy" FOR EACH ROW
BEGIN
    SELECT RAISE(ABORT, 'occupancy is empty') WHERE NEW."startsAt" >= NEW."endsAt";
    SELECT RAISE(ABORT, 'double booking') WHERE EXISTS (
        SELECT 1 FROM "Occupancy" AS other
        WHERE other."shopId" = NEW."shopId" AND other."placeId" = NEW."placeId"
          AND other."startsAt" < NEW."endsAt" AND other."endsAt" > NEW."startsAt"
          AND other.rowid <> OLD.rowid
    );
END;
