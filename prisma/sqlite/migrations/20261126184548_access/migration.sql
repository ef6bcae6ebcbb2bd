-- CreateTable
CREATE TABLE "Account" (
    "id" TEXT NOT NULL PRIMARY KEY,
    "version" INTEGER NOT NULL,
    "updatedAt" BIGINT NOT NULL,
    "signInName" TEXT NOT NULL,
    "name" TEXT NOT NULL,
    "passwordHash" TEXT,
    "administrator" BOOLEAN NOT NULL,
    "disabled" BOOLEAN NOT NULL,
    "failedAttempts" INTEGER NOT NULL DEFAULT 0,
    "lockedUntil" BIGINT NOT NULL DEFAULT 0
);

-- CreateTable
CREATE TABLE "AccountRole" (
    "shopId" TEXT NOT NULL,
    "accountId" TEXT NOT NULL,
    "role" TEXT NOT NULL,
    "technicianId" TEXT,
    "pinHash" TEXT,

    PRIMARY KEY ("shopId", "accountId"),
    CONSTRAINT "AccountRole_shopId_fkey" FOREIGN KEY ("shopId") REFERENCES "Shop" ("id") ON DELETE CASCADE ON UPDATE RESTRICT,
    CONSTRAINT "AccountRole_accountId_fkey" FOREIGN KEY ("accountId") REFERENCES "Account" ("id") ON DELETE CASCADE ON UPDATE RESTRICT
);

-- CreateTable
CREATE TABLE "SignIn" (
    "secretHash" TEXT NOT NULL PRIMARY KEY,
    "accountId" TEXT NOT NULL,
    "deviceId" TEXT,
    "shopId" TEXT,
    "createdAt" BIGINT NOT NULL,
    "lastSeenAt" BIGINT NOT NULL,
    "expiresAt" BIGINT NOT NULL,
    CONSTRAINT "SignIn_accountId_fkey" FOREIGN KEY ("accountId") REFERENCES "Account" ("id") ON DELETE CASCADE ON UPDATE RESTRICT
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

    PRIMARY KEY ("shopId", "id"),
    CONSTRAINT "Device_shopId_fkey" FOREIGN KEY ("shopId") REFERENCES "Shop" ("id") ON DELETE CASCADE ON UPDATE RESTRICT
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

    PRIMARY KEY ("shopId", "id"),
    CONSTRAINT "ApiToken_shopId_fkey" FOREIGN KEY ("shopId") REFERENCES "Shop" ("id") ON DELETE CASCADE ON UPDATE RESTRICT
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

    PRIMARY KEY ("shopId", "id"),
    CONSTRAINT "AuditEntry_shopId_fkey" FOREIGN KEY ("shopId") REFERENCES "Shop" ("id") ON DELETE CASCADE ON UPDATE RESTRICT
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
