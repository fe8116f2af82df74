-- CreateTable
CREATE TABLE "Approval" (
    "id" TEXT NOT NULL PRIMARY KEY,
    "documentId" TEXT NOT NULL,
    "role" TEXT NOT NULL,
    "name" TEXT NOT NULL,
    "contentSha256" TEXT NOT NULL,
    "draftVersion" INTEGER NOT NULL,
    "at" DATETIME NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "withdrawnAt" DATETIME,
    "withdrawnBy" TEXT,
    "withdrawnReason" TEXT,
    "publishedAt" DATETIME,
    CONSTRAINT "Approval_documentId_fkey" FOREIGN KEY ("documentId") REFERENCES "Document" ("id") ON DELETE CASCADE ON UPDATE CASCADE
);

-- RedefineTables
PRAGMA defer_foreign_keys=ON;
PRAGMA foreign_keys=OFF;
CREATE TABLE "new_Team" (
    "id" TEXT NOT NULL PRIMARY KEY,
    "name" TEXT NOT NULL,
    "numberScheme" TEXT NOT NULL DEFAULT 'Debrief {number}',
    "requiredRoles" TEXT NOT NULL DEFAULT '[]',
    "createdAt" DATETIME NOT NULL DEFAULT CURRENT_TIMESTAMP
);
INSERT INTO "new_Team" ("createdAt", "id", "name", "numberScheme") SELECT "createdAt", "id", "name", "numberScheme" FROM "Team";
DROP TABLE "Team";
ALTER TABLE "new_Team" RENAME TO "Team";
CREATE TABLE "new_Publication" (
    "id" TEXT NOT NULL PRIMARY KEY,
    "teamId" TEXT NOT NULL,
    "sessionId" TEXT,
    "number" INTEGER NOT NULL,
    "revision" INTEGER NOT NULL,
    "title" TEXT NOT NULL,
    "sha256" TEXT NOT NULL,
    "folder" TEXT NOT NULL,
    "previousSha256" TEXT,
    "designation" TEXT NOT NULL DEFAULT '',
    "reason" TEXT NOT NULL DEFAULT '',
    "publishedBy" TEXT NOT NULL,
    "publishedAt" DATETIME NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "withdrawnAt" DATETIME,
    "withdrawnBy" TEXT,
    "withdrawnReason" TEXT,
    "earlierActs" TEXT NOT NULL DEFAULT '[]',
    "approvals" TEXT NOT NULL DEFAULT '[]',
    "contentSha256" TEXT NOT NULL DEFAULT '',
    CONSTRAINT "Publication_teamId_fkey" FOREIGN KEY ("teamId") REFERENCES "Team" ("id") ON DELETE RESTRICT ON UPDATE CASCADE,
    CONSTRAINT "Publication_sessionId_fkey" FOREIGN KEY ("sessionId") REFERENCES "Session" ("id") ON DELETE SET NULL ON UPDATE CASCADE
);
INSERT INTO "new_Publication" ("designation", "folder", "id", "number", "previousSha256", "publishedAt", "publishedBy", "reason", "revision", "sessionId", "sha256", "teamId", "title", "withdrawnAt", "withdrawnBy", "withdrawnReason") SELECT "designation", "folder", "id", "number", "previousSha256", "publishedAt", "publishedBy", "reason", "revision", "sessionId", "sha256", "teamId", "title", "withdrawnAt", "withdrawnBy", "withdrawnReason" FROM "Publication";
DROP TABLE "Publication";
ALTER TABLE "new_Publication" RENAME TO "Publication";
CREATE UNIQUE INDEX "Publication_teamId_number_revision_key" ON "Publication"("teamId", "number", "revision");
PRAGMA foreign_keys=ON;
PRAGMA defer_foreign_keys=OFF;

-- CreateIndex
CREATE INDEX "Approval_documentId_idx" ON "Approval"("documentId");
