-- CreateTable
CREATE TABLE "VersionUse" (
    "id" TEXT NOT NULL PRIMARY KEY,
    "sessionId" TEXT NOT NULL,
    "kind" TEXT NOT NULL,
    "fromVersionId" TEXT,
    "toVersionId" TEXT NOT NULL,
    "author" TEXT NOT NULL,
    "reason" TEXT NOT NULL,
    "createdAt" DATETIME NOT NULL DEFAULT CURRENT_TIMESTAMP,
    CONSTRAINT "VersionUse_sessionId_fkey" FOREIGN KEY ("sessionId") REFERENCES "Session" ("id") ON DELETE CASCADE ON UPDATE CASCADE
);

-- RedefineTables
PRAGMA defer_foreign_keys=ON;
PRAGMA foreign_keys=OFF;
CREATE TABLE "new_PlanVersion" (
    "id" TEXT NOT NULL PRIMARY KEY,
    "teamId" TEXT NOT NULL,
    "entryId" TEXT NOT NULL,
    "title" TEXT NOT NULL,
    "number" INTEGER NOT NULL,
    "sha256" TEXT NOT NULL,
    "text" TEXT NOT NULL,
    "body" TEXT NOT NULL,
    "fileId" TEXT,
    "author" TEXT NOT NULL DEFAULT '',
    "reason" TEXT NOT NULL DEFAULT '',
    "createdAt" DATETIME NOT NULL DEFAULT CURRENT_TIMESTAMP,
    CONSTRAINT "PlanVersion_teamId_fkey" FOREIGN KEY ("teamId") REFERENCES "Team" ("id") ON DELETE RESTRICT ON UPDATE CASCADE
);
INSERT INTO "new_PlanVersion" ("body", "createdAt", "entryId", "id", "number", "sha256", "teamId", "text", "title") SELECT "body", "createdAt", "entryId", "id", "number", "sha256", "teamId", "text", "title" FROM "PlanVersion";
DROP TABLE "PlanVersion";
ALTER TABLE "new_PlanVersion" RENAME TO "PlanVersion";
CREATE UNIQUE INDEX "PlanVersion_entryId_number_key" ON "PlanVersion"("entryId", "number");
CREATE UNIQUE INDEX "PlanVersion_teamId_sha256_key" ON "PlanVersion"("teamId", "sha256");
CREATE TABLE "new_RuleSetVersion" (
    "id" TEXT NOT NULL PRIMARY KEY,
    "teamId" TEXT NOT NULL,
    "entryId" TEXT NOT NULL,
    "title" TEXT NOT NULL,
    "number" INTEGER NOT NULL,
    "sha256" TEXT NOT NULL,
    "text" TEXT NOT NULL,
    "body" TEXT NOT NULL,
    "fileId" TEXT,
    "author" TEXT NOT NULL DEFAULT '',
    "reason" TEXT NOT NULL DEFAULT '',
    "createdAt" DATETIME NOT NULL DEFAULT CURRENT_TIMESTAMP,
    CONSTRAINT "RuleSetVersion_teamId_fkey" FOREIGN KEY ("teamId") REFERENCES "Team" ("id") ON DELETE RESTRICT ON UPDATE CASCADE
);
INSERT INTO "new_RuleSetVersion" ("body", "createdAt", "entryId", "id", "number", "sha256", "teamId", "text", "title") SELECT "body", "createdAt", "entryId", "id", "number", "sha256", "teamId", "text", "title" FROM "RuleSetVersion";
DROP TABLE "RuleSetVersion";
ALTER TABLE "new_RuleSetVersion" RENAME TO "RuleSetVersion";
CREATE UNIQUE INDEX "RuleSetVersion_entryId_number_key" ON "RuleSetVersion"("entryId", "number");
CREATE UNIQUE INDEX "RuleSetVersion_teamId_sha256_key" ON "RuleSetVersion"("teamId", "sha256");
PRAGMA foreign_keys=ON;
PRAGMA defer_foreign_keys=OFF;

-- CreateIndex
CREATE INDEX "VersionUse_sessionId_idx" ON "VersionUse"("sessionId");
