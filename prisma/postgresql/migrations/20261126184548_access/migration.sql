-- CreateTable
CREATE TABLE "Account" (
    "id" TEXT NOT NULL,
    "version" INTEGER NOT NULL,
    "updatedAt" BIGINT NOT NULL,
    "signInName" TEXT NOT NULL,
    "name" TEXT NOT NULL,
    "passwordHash" TEXT,
    "administrator" BOOLEAN NOT NULL,
    "disabled" BOOLEAN NOT NULL,
    "failedAttempts" INTEGER NOT NULL DEFAULT 0,
    "lockedUntil" BIGINT NOT NULL DEFAULT 0,

    CONSTRAINT "Account_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "AccountRole" (
    "shopId" TEXT NOT NULL,
    "accountId" TEXT NOT NULL,
    "role" TEXT NOT NULL,
    "technicianId" TEXT,
    "pinHash" TEXT,

    CONSTRAINT "AccountRole_pkey" PRIMARY KEY ("shopId","accountId")
);

-- CreateTable
CREATE TABLE "SignIn" (
    "secretHash" TEXT NOT NULL,
    "accountId" TEXT NOT NULL,
    "deviceId" TEXT,
    "shopId" TEXT,
    "createdAt" BIGINT NOT NULL,
    "lastSeenAt" BIGINT NOT NULL,
    "expiresAt" BIGINT NOT NULL,

    CONSTRAINT "SignIn_pkey" PRIMARY KEY ("secretHash")
);

-- CreateTable
CREATE TABLE "Device" (
    "shopId" TEXT NOT NULL,
    "id" TEXT NOT NULL,
    "name" TEXT NOT NULL,
    "secretHash" TEXT NOT NULL,
    "createdAt" BIGINT NOT NULL,
    "failedAttempts" INTEGER NOT NULL DEFAULT 0,
    "lockedUntil" BIGINT NOT NULL DEFAULT 0,

    CONSTRAINT "Device_pkey" PRIMARY KEY ("shopId","id")
);

-- CreateTable
CREATE TABLE "ApiToken" (
    "shopId" TEXT NOT NULL,
    "id" TEXT NOT NULL,
    "name" TEXT NOT NULL,
    "secretHash" TEXT NOT NULL,
    "scopes" TEXT NOT NULL,
    "createdAt" BIGINT NOT NULL,
    "createdBy" TEXT NOT NULL,
    "expiresAt" BIGINT NOT NULL,

    CONSTRAINT "ApiToken_pkey" PRIMARY KEY ("shopId","id")
);

-- CreateTable
CREATE TABLE "AuditEntry" (
    "shopId" TEXT NOT NULL,
    "id" TEXT NOT NULL,
    "at" BIGINT NOT NULL,
    "who" TEXT NOT NULL,
    "requestId" TEXT NOT NULL,
    "kind" TEXT NOT NULL,
    "subject" TEXT NOT NULL,
    "before" TEXT,
    "after" TEXT,

    CONSTRAINT "AuditEntry_pkey" PRIMARY KEY ("shopId","id")
);

-- CreateIndex
CREATE UNIQUE INDEX "Account_signInName_key" ON "Account"("signInName");

-- CreateIndex
CREATE INDEX "AccountRole_accountId_idx" ON "AccountRole"("accountId");

-- CreateIndex
CREATE INDEX "SignIn_accountId_idx" ON "SignIn"("accountId");

-- CreateIndex
CREATE INDEX "SignIn_expiresAt_idx" ON "SignIn"("expiresAt");

-- CreateIndex
CREATE UNIQUE INDEX "Device_secretHash_key" ON "Device"("secretHash");

-- CreateIndex
CREATE UNIQUE INDEX "ApiToken_secretHash_key" ON "ApiToken"("secretHash");

-- CreateIndex
CREATE INDEX "AuditEntry_shopId_at_idx" ON "AuditEntry"("shopId", "at");

-- CreateIndex
CREATE INDEX "AuditEntry_shopId_kind_subject_at_idx" ON "AuditEntry"("shopId", "kind", "subject", "at");

-- AddForeignKey
ALTER TABLE "AccountRole" ADD CONSTRAINT "AccountRole_shopId_fkey" FOREIGN KEY ("shopId") REFERENCES "Shop"("id") ON DELETE CASCADE ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "AccountRole" ADD CONSTRAINT "AccountRole_accountId_fkey" FOREIGN KEY ("accountId") REFERENCES "Account"("id") ON DELETE CASCADE ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "SignIn" ADD CONSTRAINT "SignIn_accountId_fkey" FOREIGN KEY ("accountId") REFERENCES "Account"("id") ON DELETE CASCADE ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "Device" ADD CONSTRAINT "Device_shopId_fkey" FOREIGN KEY ("shopId") REFERENCES "Shop"("id") ON DELETE CASCADE ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "ApiToken" ADD CONSTRAINT "ApiToken_shopId_fkey" FOREIGN KEY ("shopId") REFERENCES "Shop"("id") ON DELETE CASCADE ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "AuditEntry" ADD CONSTRAINT "AuditEntry_shopId_fkey" FOREIGN KEY ("shopId") REFERENCES "Shop"("id") ON DELETE CASCADE ON UPDATE RESTRICT;
