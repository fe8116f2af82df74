-- CreateTable
CREATE TABLE "DebriefTemplateVersion" (
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
    CONSTRAINT "DebriefTemplateVersion_teamId_fkey" FOREIGN KEY ("teamId") REFERENCES "Team" ("id") ON DELETE RESTRICT ON UPDATE CASCADE
);

-- RedefineTables
PRAGMA defer_foreign_keys=ON;
PRAGMA foreign_keys=OFF;
CREATE TABLE "new_Session" (
    "id" TEXT NOT NULL PRIMARY KEY,
    "teamId" TEXT NOT NULL,
    "version" INTEGER NOT NULL DEFAULT 1,
    "title" TEXT NOT NULL,
    "kind" TEXT NOT NULL,
    "zeroTaiNs" BIGINT NOT NULL,
    "zeroUtc" TEXT NOT NULL,
    "origin" TEXT NOT NULL,
    "folderSha256" TEXT NOT NULL,
    "planVersionId" TEXT,
    "ruleSetVersionId" TEXT,
    "debriefTemplateVersionId" TEXT,
    "filesNumber" INTEGER NOT NULL DEFAULT 1,
    "createdAt" DATETIME NOT NULL DEFAULT CURRENT_TIMESTAMP,
    CONSTRAINT "Session_teamId_fkey" FOREIGN KEY ("teamId") REFERENCES "Team" ("id") ON DELETE RESTRICT ON UPDATE CASCADE,
    CONSTRAINT "Session_planVersionId_fkey" FOREIGN KEY ("planVersionId") REFERENCES "PlanVersion" ("id") ON DELETE SET NULL ON UPDATE CASCADE,
    CONSTRAINT "Session_ruleSetVersionId_fkey" FOREIGN KEY ("ruleSetVersionId") REFERENCES "RuleSetVersion" ("id") ON DELETE SET NULL ON UPDATE CASCADE,
    CONSTRAINT "Session_debriefTemplateVersionId_fkey" FOREIGN KEY ("debriefTemplateVersionId") REFERENCES "DebriefTemplateVersion" ("id") ON DELETE SET NULL ON UPDATE CASCADE
);
INSERT INTO "new_Session" ("createdAt", "filesNumber", "folderSha256", "id", "kind", "origin", "planVersionId", "ruleSetVersionId", "teamId", "title", "version", "zeroTaiNs", "zeroUtc") SELECT "createdAt", "filesNumber", "folderSha256", "id", "kind", "origin", "planVersionId", "ruleSetVersionId", "teamId", "title", "version", "zeroTaiNs", "zeroUtc" FROM "Session";
DROP TABLE "Session";
ALTER TABLE "new_Session" RENAME TO "Session";
CREATE UNIQUE INDEX "Session_teamId_folderSha256_key" ON "Session"("teamId", "folderSha256");
PRAGMA foreign_keys=ON;
PRAGMA defer_foreign_keys=OFF;

-- CreateIndex
CREATE UNIQUE INDEX "DebriefTemplateVersion_entryId_number_key" ON "DebriefTemplateVersion"("entryId", "number");

-- CreateIndex
CREATE UNIQUE INDEX "DebriefTemplateVersion_teamId_sha256_key" ON "DebriefTemplateVersion"("teamId", "sha256");
