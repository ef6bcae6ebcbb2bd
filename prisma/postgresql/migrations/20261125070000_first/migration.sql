-- CreateTable
CREATE TABLE "Shop" (
    "id" TEXT NOT NULL,
    "version" INTEGER NOT NULL,
    "updatedAt" BIGINT NOT NULL,
    "document" TEXT NOT NULL,
    "planVersion" INTEGER NOT NULL DEFAULT 0,
    "outboxSequence" INTEGER NOT NULL DEFAULT 0,
    "readingNumber" INTEGER NOT NULL DEFAULT 0,

    CONSTRAINT "Shop_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "AirZone" (
    "shopId" TEXT NOT NULL,
    "id" TEXT NOT NULL,
    "version" INTEGER NOT NULL,
    "updatedAt" BIGINT NOT NULL,
    "document" TEXT NOT NULL,

    CONSTRAINT "AirZone_pkey" PRIMARY KEY ("shopId","id")
);

-- CreateTable
CREATE TABLE "Place" (
    "shopId" TEXT NOT NULL,
    "id" TEXT NOT NULL,
    "version" INTEGER NOT NULL,
    "updatedAt" BIGINT NOT NULL,
    "document" TEXT NOT NULL,
    "airZoneId" TEXT,

    CONSTRAINT "Place_pkey" PRIMARY KEY ("shopId","id")
);

-- CreateTable
CREATE TABLE "PlaceBlock" (
    "shopId" TEXT NOT NULL,
    "placeId" TEXT NOT NULL,
    "blockedById" TEXT NOT NULL,

    CONSTRAINT "PlaceBlock_pkey" PRIMARY KEY ("shopId","placeId","blockedById")
);

-- CreateTable
CREATE TABLE "Technician" (
    "shopId" TEXT NOT NULL,
    "id" TEXT NOT NULL,
    "version" INTEGER NOT NULL,
    "updatedAt" BIGINT NOT NULL,
    "document" TEXT NOT NULL,

    CONSTRAINT "Technician_pkey" PRIMARY KEY ("shopId","id")
);

-- CreateTable
CREATE TABLE "TechnicianCertificate" (
    "shopId" TEXT NOT NULL,
    "technicianId" TEXT NOT NULL,
    "coatingId" TEXT NOT NULL,

    CONSTRAINT "TechnicianCertificate_pkey" PRIMARY KEY ("shopId","technicianId","coatingId")
);

-- CreateTable
CREATE TABLE "Equipment" (
    "shopId" TEXT NOT NULL,
    "id" TEXT NOT NULL,
    "version" INTEGER NOT NULL,
    "updatedAt" BIGINT NOT NULL,
    "document" TEXT NOT NULL,
    "airZoneId" TEXT,

    CONSTRAINT "Equipment_pkey" PRIMARY KEY ("shopId","id")
);

-- CreateTable
CREATE TABLE "Coating" (
    "shopId" TEXT NOT NULL,
    "id" TEXT NOT NULL,
    "version" INTEGER NOT NULL,
    "updatedAt" BIGINT NOT NULL,
    "document" TEXT NOT NULL,

    CONSTRAINT "Coating_pkey" PRIMARY KEY ("shopId","id")
);

-- CreateTable
CREATE TABLE "Recipe" (
    "shopId" TEXT NOT NULL,
    "id" TEXT NOT NULL,
    "version" INTEGER NOT NULL,
    "updatedAt" BIGINT NOT NULL,
    "document" TEXT NOT NULL,

    CONSTRAINT "Recipe_pkey" PRIMARY KEY ("shopId","id")
);

-- CreateTable
CREATE TABLE "RecipeCoating" (
    "shopId" TEXT NOT NULL,
    "recipeId" TEXT NOT NULL,
    "coatingId" TEXT NOT NULL,

    CONSTRAINT "RecipeCoating_pkey" PRIMARY KEY ("shopId","recipeId","coatingId")
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

    CONSTRAINT "Job_pkey" PRIMARY KEY ("shopId","id")
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

    CONSTRAINT "FloorEvent_pkey" PRIMARY KEY ("shopId","jobId","sequence")
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

    CONSTRAINT "Reading_pkey" PRIMARY KEY ("shopId","number")
);

-- CreateTable
CREATE TABLE "PlanVersion" (
    "shopId" TEXT NOT NULL,
    "version" INTEGER NOT NULL,
    "madeAt" BIGINT NOT NULL,
    "summary" TEXT NOT NULL,
    "document" TEXT NOT NULL,

    CONSTRAINT "PlanVersion_pkey" PRIMARY KEY ("shopId","version")
);

-- CreateTable
CREATE TABLE "PlannedJob" (
    "shopId" TEXT NOT NULL,
    "jobId" TEXT NOT NULL,
    "document" TEXT NOT NULL,

    CONSTRAINT "PlannedJob_pkey" PRIMARY KEY ("shopId","jobId")
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

    CONSTRAINT "PlannedOperation_pkey" PRIMARY KEY ("shopId","jobId","operation")
);

-- CreateTable
CREATE TABLE "PlannedPerson" (
    "shopId" TEXT NOT NULL,
    "technicianId" TEXT NOT NULL,
    "jobId" TEXT NOT NULL,
    "operation" TEXT NOT NULL,
    "startsAt" BIGINT NOT NULL,
    "endsAt" BIGINT NOT NULL,

    CONSTRAINT "PlannedPerson_pkey" PRIMARY KEY ("shopId","technicianId","jobId","operation")
);

-- CreateTable
CREATE TABLE "PlannedStay" (
    "shopId" TEXT NOT NULL,
    "jobId" TEXT NOT NULL,
    "position" INTEGER NOT NULL,
    "startsAt" BIGINT NOT NULL,
    "endsAt" BIGINT NOT NULL,
    "placeId" TEXT NOT NULL,

    CONSTRAINT "PlannedStay_pkey" PRIMARY KEY ("shopId","jobId","position")
);

-- CreateTable
CREATE TABLE "Occupancy" (
    "shopId" TEXT NOT NULL,
    "placeId" TEXT NOT NULL,
    "startsAt" BIGINT NOT NULL,
    "endsAt" BIGINT NOT NULL,
    "owner" TEXT NOT NULL,
    "expiresAt" BIGINT,

    CONSTRAINT "Occupancy_pkey" PRIMARY KEY ("shopId","placeId","startsAt")
);

-- CreateTable
CREATE TABLE "OutboxEvent" (
    "shopId" TEXT NOT NULL,
    "sequence" INTEGER NOT NULL,
    "kind" TEXT NOT NULL,
    "subject" TEXT NOT NULL,
    "at" BIGINT NOT NULL,
    "body" TEXT NOT NULL,

    CONSTRAINT "OutboxEvent_pkey" PRIMARY KEY ("shopId","sequence")
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

    CONSTRAINT "RequestReply_pkey" PRIMARY KEY ("shopId","principal","route","key")
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

-- AddForeignKey
ALTER TABLE "AirZone" ADD CONSTRAINT "AirZone_shopId_fkey" FOREIGN KEY ("shopId") REFERENCES "Shop"("id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "Place" ADD CONSTRAINT "Place_shopId_fkey" FOREIGN KEY ("shopId") REFERENCES "Shop"("id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "Place" ADD CONSTRAINT "Place_shopId_airZoneId_fkey" FOREIGN KEY ("shopId", "airZoneId") REFERENCES "AirZone"("shopId", "id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "PlaceBlock" ADD CONSTRAINT "PlaceBlock_shopId_placeId_fkey" FOREIGN KEY ("shopId", "placeId") REFERENCES "Place"("shopId", "id") ON DELETE CASCADE ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "PlaceBlock" ADD CONSTRAINT "PlaceBlock_shopId_blockedById_fkey" FOREIGN KEY ("shopId", "blockedById") REFERENCES "Place"("shopId", "id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "Technician" ADD CONSTRAINT "Technician_shopId_fkey" FOREIGN KEY ("shopId") REFERENCES "Shop"("id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "TechnicianCertificate" ADD CONSTRAINT "TechnicianCertificate_shopId_technicianId_fkey" FOREIGN KEY ("shopId", "technicianId") REFERENCES "Technician"("shopId", "id") ON DELETE CASCADE ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "TechnicianCertificate" ADD CONSTRAINT "TechnicianCertificate_shopId_coatingId_fkey" FOREIGN KEY ("shopId", "coatingId") REFERENCES "Coating"("shopId", "id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "Equipment" ADD CONSTRAINT "Equipment_shopId_fkey" FOREIGN KEY ("shopId") REFERENCES "Shop"("id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "Equipment" ADD CONSTRAINT "Equipment_shopId_airZoneId_fkey" FOREIGN KEY ("shopId", "airZoneId") REFERENCES "AirZone"("shopId", "id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "Coating" ADD CONSTRAINT "Coating_shopId_fkey" FOREIGN KEY ("shopId") REFERENCES "Shop"("id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "Recipe" ADD CONSTRAINT "Recipe_shopId_fkey" FOREIGN KEY ("shopId") REFERENCES "Shop"("id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "RecipeCoating" ADD CONSTRAINT "RecipeCoating_shopId_recipeId_fkey" FOREIGN KEY ("shopId", "recipeId") REFERENCES "Recipe"("shopId", "id") ON DELETE CASCADE ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "RecipeCoating" ADD CONSTRAINT "RecipeCoating_shopId_coatingId_fkey" FOREIGN KEY ("shopId", "coatingId") REFERENCES "Coating"("shopId", "id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "Job" ADD CONSTRAINT "Job_shopId_fkey" FOREIGN KEY ("shopId") REFERENCES "Shop"("id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "Job" ADD CONSTRAINT "Job_shopId_recipeId_fkey" FOREIGN KEY ("shopId", "recipeId") REFERENCES "Recipe"("shopId", "id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "Job" ADD CONSTRAINT "Job_shopId_dropOffById_fkey" FOREIGN KEY ("shopId", "dropOffById") REFERENCES "Technician"("shopId", "id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "Job" ADD CONSTRAINT "Job_shopId_pickupById_fkey" FOREIGN KEY ("shopId", "pickupById") REFERENCES "Technician"("shopId", "id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "FloorEvent" ADD CONSTRAINT "FloorEvent_shopId_jobId_fkey" FOREIGN KEY ("shopId", "jobId") REFERENCES "Job"("shopId", "id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "Reading" ADD CONSTRAINT "Reading_shopId_airZoneId_fkey" FOREIGN KEY ("shopId", "airZoneId") REFERENCES "AirZone"("shopId", "id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "Reading" ADD CONSTRAINT "Reading_shopId_jobId_fkey" FOREIGN KEY ("shopId", "jobId") REFERENCES "Job"("shopId", "id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "PlanVersion" ADD CONSTRAINT "PlanVersion_shopId_fkey" FOREIGN KEY ("shopId") REFERENCES "Shop"("id") ON DELETE CASCADE ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "PlannedJob" ADD CONSTRAINT "PlannedJob_shopId_jobId_fkey" FOREIGN KEY ("shopId", "jobId") REFERENCES "Job"("shopId", "id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "PlannedOperation" ADD CONSTRAINT "PlannedOperation_shopId_jobId_fkey" FOREIGN KEY ("shopId", "jobId") REFERENCES "Job"("shopId", "id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "PlannedOperation" ADD CONSTRAINT "PlannedOperation_shopId_placeId_fkey" FOREIGN KEY ("shopId", "placeId") REFERENCES "Place"("shopId", "id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "PlannedPerson" ADD CONSTRAINT "PlannedPerson_shopId_technicianId_fkey" FOREIGN KEY ("shopId", "technicianId") REFERENCES "Technician"("shopId", "id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "PlannedPerson" ADD CONSTRAINT "PlannedPerson_shopId_jobId_operation_fkey" FOREIGN KEY ("shopId", "jobId", "operation") REFERENCES "PlannedOperation"("shopId", "jobId", "operation") ON DELETE CASCADE ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "PlannedStay" ADD CONSTRAINT "PlannedStay_shopId_jobId_fkey" FOREIGN KEY ("shopId", "jobId") REFERENCES "Job"("shopId", "id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "PlannedStay" ADD CONSTRAINT "PlannedStay_shopId_placeId_fkey" FOREIGN KEY ("shopId", "placeId") REFERENCES "Place"("shopId", "id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "Occupancy" ADD CONSTRAINT "Occupancy_shopId_placeId_fkey" FOREIGN KEY ("shopId", "placeId") REFERENCES "Place"("shopId", "id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "OutboxEvent" ADD CONSTRAINT "OutboxEvent_shopId_fkey" FOREIGN KEY ("shopId") REFERENCES "Shop"("id") ON DELETE CASCADE ON UPDATE RESTRICT;


-- Written by hand: no two stretches of one place overlap, and none is empty. Looked for at every start.
CREATE EXTENSION IF NOT EXISTS btree_gist;
ALTER TABLE "Occupancy" ADD CONSTRAINT "Occupancy_not_empty" CHECK ("startsAt" < "endsAt");
ALTER TABLE "Occupancy" ADD CONSTRAINT "Occupancy_no_overlap"
    EXCLUDE USING gist ("shopId" WITH =, "placeId" WITH =, int8range("startsAt", "endsAt") WITH &&)
    DEFERRABLE INITIALLY IMMEDIATE;
