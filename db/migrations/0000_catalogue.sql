CREATE TABLE "catalogue" (
	"noun" text NOT NULL,
	"id" text NOT NULL,
	"version" integer NOT NULL,
	"current" boolean NOT NULL,
	"kind" text,
	"name" text NOT NULL,
	"words" text NOT NULL,
	"document" jsonb NOT NULL,
	"added_at" timestamp with time zone DEFAULT now() NOT NULL,
	CONSTRAINT "catalogue_noun_id_version_pk" PRIMARY KEY("noun","id","version")
);
--> statement-breakpoint
CREATE INDEX "catalogue_current" ON "catalogue" USING btree ("noun","id") WHERE "catalogue"."current";--> statement-breakpoint
CREATE INDEX "catalogue_words" ON "catalogue" USING gin ("words" gin_trgm_ops);