-- RedefineTables
PRAGMA defer_foreign_keys=ON;
PRAGMA foreign_keys=OFF;
CREATE TABLE "new_Reconstruction" (
    "id" TEXT NOT NULL PRIMARY KEY,
    "sessionId" TEXT NOT NULL,
    "inputsSha256" TEXT NOT NULL,
    "engine" TEXT NOT NULL,
    "body" TEXT NOT NULL,
    "derivedFolder" TEXT NOT NULL,
    "runsFolder" TEXT NOT NULL DEFAULT '',
    "createdAt" DATETIME NOT NULL DEFAULT CURRENT_TIMESTAMP,
    CONSTRAINT "Reconstruction_sessionId_fkey" FOREIGN KEY ("sessionId") REFERENCES "Session" ("id") ON DELETE CASCADE ON UPDATE CASCADE
);
INSERT INTO "new_Reconstruction" ("body", "createdAt", "derivedFolder", "engine", "id", "inputsSha256", "sessionId") SELECT "body", "createdAt", "derivedFolder", "engine", "id", "inputsSha256", "sessionId" FROM "Reconstruction";
DROP TABLE "Reconstruction";
ALTER TABLE "new_Reconstruction" RENAME TO "Reconstruction";
CREATE UNIQUE INDEX "Reconstruction_sessionId_inputsSha256_engine_key" ON "Reconstruction"("sessionId", "inputsSha256", "engine");
PRAGMA foreign_keys=ON;
PRAGMA defer_foreign_keys=OFF;
