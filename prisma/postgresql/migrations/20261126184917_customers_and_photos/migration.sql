-- CreateTable
CREATE TABLE "CustomerLink" (
    "shopId" TEXT NOT NULL,
    "jobId" TEXT NOT NULL,
    "generation" INTEGER NOT NULL,
    "seed" TEXT NOT NULL,
    "tokenHash" TEXT NOT NULL,
    "issuedAt" BIGINT NOT NULL,
    "revokedAt" BIGINT,

    CONSTRAINT "CustomerLink_pkey" PRIMARY KEY ("shopId","jobId")
);

-- CreateTable
CREATE TABLE "CustomerTold" (
    "shopId" TEXT NOT NULL,
    "jobId" TEXT NOT NULL,
    "number" INTEGER NOT NULL,
    "dropOffAt" BIGINT,
    "pickupAt" BIGINT,
    "toldAt" BIGINT NOT NULL,

    CONSTRAINT "CustomerTold_pkey" PRIMARY KEY ("shopId","jobId","number")
);

-- CreateTable
CREATE TABLE "CustomerMessage" (
    "shopId" TEXT NOT NULL,
    "jobId" TEXT NOT NULL,
    "kind" TEXT NOT NULL,
    "occasion" TEXT NOT NULL,
    "state" TEXT NOT NULL,
    "attempts" INTEGER NOT NULL,
    "queuedAt" BIGINT NOT NULL,
    "dueAt" BIGINT NOT NULL,
    "changedAt" BIGINT NOT NULL,
    "claim" TEXT,
    "fault" TEXT NOT NULL,

    CONSTRAINT "CustomerMessage_pkey" PRIMARY KEY ("shopId","jobId","kind","occasion")
);

-- CreateTable
CREATE TABLE "Photo" (
    "shopId" TEXT NOT NULL,
    "id" TEXT NOT NULL,
    "jobId" TEXT NOT NULL,
    "clientId" TEXT NOT NULL,
    "takenAt" BIGINT NOT NULL,
    "document" TEXT NOT NULL,

    CONSTRAINT "Photo_pkey" PRIMARY KEY ("shopId","id")
);

-- CreateTable
CREATE TABLE "PhotoBytes" (
    "shopId" TEXT NOT NULL,
    "id" TEXT NOT NULL,
    "bytes" BYTEA NOT NULL,

    CONSTRAINT "PhotoBytes_pkey" PRIMARY KEY ("shopId","id")
);

-- CreateIndex
CREATE UNIQUE INDEX "CustomerLink_tokenHash_key" ON "CustomerLink"("tokenHash");

-- CreateIndex
CREATE INDEX "CustomerMessage_shopId_state_dueAt_idx" ON "CustomerMessage"("shopId", "state", "dueAt");

-- CreateIndex
CREATE INDEX "Photo_shopId_jobId_takenAt_idx" ON "Photo"("shopId", "jobId", "takenAt");

-- CreateIndex
CREATE UNIQUE INDEX "Photo_shopId_clientId_key" ON "Photo"("shopId", "clientId");

-- AddForeignKey
ALTER TABLE "CustomerLink" ADD CONSTRAINT "CustomerLink_shopId_jobId_fkey" FOREIGN KEY ("shopId", "jobId") REFERENCES "Job"("shopId", "id") ON DELETE CASCADE ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "CustomerTold" ADD CONSTRAINT "CustomerTold_shopId_jobId_fkey" FOREIGN KEY ("shopId", "jobId") REFERENCES "Job"("shopId", "id") ON DELETE CASCADE ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "CustomerMessage" ADD CONSTRAINT "CustomerMessage_shopId_jobId_fkey" FOREIGN KEY ("shopId", "jobId") REFERENCES "Job"("shopId", "id") ON DELETE CASCADE ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "Photo" ADD CONSTRAINT "Photo_shopId_jobId_fkey" FOREIGN KEY ("shopId", "jobId") REFERENCES "Job"("shopId", "id") ON DELETE CASCADE ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "PhotoBytes" ADD CONSTRAINT "PhotoBytes_shopId_id_fkey" FOREIGN KEY ("shopId", "id") REFERENCES "Photo"("shopId", "id") ON DELETE CASCADE ON UPDATE RESTRICT;
