-- AlterTable
ALTER TABLE "Occupancy" ADD COLUMN     "jobId" TEXT;
-- By hand: the owner of what the plan occupies is its job.
UPDATE "Occupancy" SET "jobId" = "owner" WHERE "expiresAt" IS NULL;

-- CreateTable
CREATE TABLE "DeskException" (
    "shopId" TEXT NOT NULL,
    "id" TEXT NOT NULL,
    "version" INTEGER NOT NULL,
    "updatedAt" BIGINT NOT NULL,
    "document" TEXT NOT NULL,
    "jobId" TEXT,

    CONSTRAINT "DeskException_pkey" PRIMARY KEY ("shopId","id")
);

-- CreateIndex
CREATE INDEX "DeskException_shopId_jobId_idx" ON "DeskException"("shopId", "jobId");

-- CreateIndex
CREATE INDEX "Occupancy_shopId_jobId_idx" ON "Occupancy"("shopId", "jobId");

-- AddForeignKey
ALTER TABLE "Occupancy" ADD CONSTRAINT "Occupancy_shopId_jobId_fkey" FOREIGN KEY ("shopId", "jobId") REFERENCES "Job"("shopId", "id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "DeskException" ADD CONSTRAINT "DeskException_shopId_fkey" FOREIGN KEY ("shopId") REFERENCES "Shop"("id") ON DELETE CASCADE ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "DeskException" ADD CONSTRAINT "DeskException_shopId_jobId_fkey" FOREIGN KEY ("shopId", "jobId") REFERENCES "Job"("shopId", "id") ON DELETE CASCADE ON UPDATE RESTRICT;
