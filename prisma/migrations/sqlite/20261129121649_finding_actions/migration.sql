-- RedefineTables
PRAGMA defer_foreign_keys=ON;
PRAGMA foreign_keys=OFF;
CREATE TABLE "new_Finding" (
    "id" TEXT NOT NULL PRIMARY KEY,
    "sessionId" TEXT NOT NULL,
    "version" INTEGER NOT NULL DEFAULT 1,
    "number" INTEGER NOT NULL,
    "title" TEXT NOT NULL,
    "seen" TEXT NOT NULL,
    "change" TEXT NOT NULL,
    "owner" TEXT NOT NULL DEFAULT '',
    "due" TEXT NOT NULL DEFAULT '',
    "kind" TEXT NOT NULL,
    "severity" TEXT NOT NULL,
    "state" TEXT NOT NULL,
    "fromS" REAL NOT NULL,
    "toS" REAL NOT NULL,
    "channels" TEXT NOT NULL,
    "figures" TEXT NOT NULL,
    "author" TEXT NOT NULL,
    "createdAt" DATETIME NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "updatedAt" DATETIME NOT NULL,
    CONSTRAINT "Finding_sessionId_fkey" FOREIGN KEY ("sessionId") REFERENCES "Session" ("id") ON DELETE CASCADE ON UPDATE CASCADE
);
INSERT INTO "new_Finding" ("author", "change", "channels", "createdAt", "figures", "fromS", "id", "kind", "number", "seen", "sessionId", "severity", "state", "title", "toS", "updatedAt", "version") SELECT "author", "change", "channels", "createdAt", "figures", "fromS", "id", "kind", "number", "seen", "sessionId", "severity", "state", "title", "toS", "updatedAt", "version" FROM "Finding";
DROP TABLE "Finding";
ALTER TABLE "new_Finding" RENAME TO "Finding";
CREATE UNIQUE INDEX "Finding_sessionId_number_key" ON "Finding"("sessionId", "number");
PRAGMA foreign_keys=ON;
PRAGMA defer_foreign_keys=OFF;
