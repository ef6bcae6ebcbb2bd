-- CreateTable
CREATE TABLE "DeskException" (
    "shopId" TEXT NOT NULL,
    "id" TEXT NOT NULL,
    "version" INTEGER NOT NULL,
    "updatedAt" BIGINT NOT NULL,
    "document" TEXT NOT NULL,
    "jobId" TEXT,

    PRIMARY KEY ("shopId", "id"),
    CONSTRAINT "DeskException_shopId_fkey" FOREIGN KEY ("shopId") REFERENCES "Shop" ("id") ON DELETE CASCADE ON UPDATE RESTRICT,
    CONSTRAINT "DeskException_shopId_jobId_fkey" FOREIGN KEY ("shopId", "jobId") REFERENCES "Job" ("shopId", "id") ON DELETE CASCADE ON UPDATE RESTRICT
);

-- RedefineTables
PRAGMA defer_foreign_keys=ON;
PRAGMA foreign_keys=OFF;
CREATE TABLE "new_Occupancy" (
    "shopId" TEXT NOT NULL,
    "placeId" TEXT NOT NULL,
    "startsAt" BIGINT NOT NULL,
    "endsAt" BIGINT NOT NULL,
    "owner" TEXT NOT NULL,
    "expiresAt" BIGINT,
    "jobId" TEXT,

    PRIMARY KEY ("shopId", "placeId", "startsAt"),
    CONSTRAINT "Occupancy_shopId_placeId_fkey" FOREIGN KEY ("shopId", "placeId") REFERENCES "Place" ("shopId", "id") ON DELETE RESTRICT ON UPDATE RESTRICT,
    CONSTRAINT "Occupancy_shopId_jobId_fkey" FOREIGN KEY ("shopId", "jobId") REFERENCES "Job" ("shopId", "id") ON DELETE RESTRICT ON UPDATE RESTRICT
);
-- By hand: the owner of what the plan occupies is its job.
INSERT INTO "new_Occupancy" ("endsAt", "expiresAt", "owner", "placeId", "shopId", "startsAt", "jobId")
    SELECT "endsAt", "expiresAt", "owner", "placeId", "shopId", "startsAt", CASE WHEN "expiresAt" IS NULL THEN "owner" END
    FROM "Occupancy";
DROP TABLE "Occupancy";
ALTER TABLE "new_Occupancy" RENAME TO "Occupancy";
CREATE INDEX "Occupancy_shopId_owner_idx" ON "Occupancy"("shopId", "owner");
CREATE INDEX "Occupancy_shopId_jobId_idx" ON "Occupancy"("shopId", "jobId");
PRAGMA foreign_keys=ON;
PRAGMA defer_foreign_keys=OFF;

-- CreateIndex
CREATE INDEX "DeskException_shopId_jobId_idx" ON "DeskException"("shopId", "jobId");

-- By hand: the rebuilt table has lost its triggers.
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
