-- CreateTable
CREATE TABLE "ModelChange" (
    "id" TEXT NOT NULL PRIMARY KEY,
    "sessionId" TEXT NOT NULL,
    "version" INTEGER NOT NULL DEFAULT 1,
    "number" INTEGER NOT NULL,
    "parameter" TEXT NOT NULL,
    "now" TEXT NOT NULL,
    "proposed" TEXT NOT NULL,
    "owner" TEXT NOT NULL,
    "state" TEXT NOT NULL,
    "figures" TEXT NOT NULL,
    "author" TEXT NOT NULL,
    "earlier" TEXT NOT NULL DEFAULT '[]',
    "createdAt" DATETIME NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "updatedAt" DATETIME NOT NULL,
    "removedAt" DATETIME,
    CONSTRAINT "ModelChange_sessionId_fkey" FOREIGN KEY ("sessionId") REFERENCES "Session" ("id") ON DELETE CASCADE ON UPDATE CASCADE
);

-- CreateIndex
CREATE UNIQUE INDEX "ModelChange_sessionId_number_key" ON "ModelChange"("sessionId", "number");
