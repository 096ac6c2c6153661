CREATE TABLE "cell_tokens" (
	"id" text collate "C" PRIMARY KEY NOT NULL,
	"name" text NOT NULL,
	"hash" text NOT NULL,
	"key" text NOT NULL,
	"at" timestamp with time zone DEFAULT now() NOT NULL,
	"revoked_at" timestamp with time zone
);
--> statement-breakpoint
CREATE TABLE "sheet_answers" (
	"job" text collate "C" NOT NULL,
	"hash" text NOT NULL,
	"verdict" text NOT NULL,
	"cells" text NOT NULL,
	CONSTRAINT "sheet_answers_job_hash_pk" PRIMARY KEY("job","hash")
);
--> statement-breakpoint
CREATE TABLE "sheet_jobs" (
	"id" text collate "C" PRIMARY KEY NOT NULL,
	"name" text NOT NULL,
	"form" text NOT NULL,
	"state" text NOT NULL,
	"asked" jsonb NOT NULL,
	"columns" jsonb NOT NULL,
	"rows" integer NOT NULL,
	"gathered" boolean NOT NULL,
	"at_row" integer DEFAULT 0 NOT NULL,
	"done" integer DEFAULT 0 NOT NULL,
	"counts" jsonb DEFAULT '{}'::jsonb NOT NULL,
	"problem" text,
	"worker" text,
	"beat" timestamp with time zone,
	"once" text,
	"request" text NOT NULL,
	"key" text NOT NULL,
	"at" timestamp with time zone DEFAULT now() NOT NULL,
	"finished_at" timestamp with time zone,
	CONSTRAINT "sheet_jobs_once_unique" UNIQUE("once")
);
--> statement-breakpoint
CREATE TABLE "sheet_pieces" (
	"job" text collate "C" NOT NULL,
	"n" integer NOT NULL,
	"bytes" "bytea" NOT NULL,
	CONSTRAINT "sheet_pieces_job_n_pk" PRIMARY KEY("job","n")
);
--> statement-breakpoint
CREATE TABLE "sheet_rows" (
	"job" text collate "C" NOT NULL,
	"row" integer NOT NULL,
	"first" integer NOT NULL,
	"build" text,
	"cells" text,
	"done" boolean NOT NULL,
	"answer" text,
	"faults" text,
	CONSTRAINT "sheet_rows_job_row_pk" PRIMARY KEY("job","row")
);
--> statement-breakpoint
ALTER TABLE "sheet_answers" ADD CONSTRAINT "sheet_answers_job_sheet_jobs_id_fk" FOREIGN KEY ("job") REFERENCES "public"."sheet_jobs"("id") ON DELETE cascade ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "sheet_pieces" ADD CONSTRAINT "sheet_pieces_job_sheet_jobs_id_fk" FOREIGN KEY ("job") REFERENCES "public"."sheet_jobs"("id") ON DELETE cascade ON UPDATE no action;--> statement-breakpoint
ALTER TABLE "sheet_rows" ADD CONSTRAINT "sheet_rows_job_sheet_jobs_id_fk" FOREIGN KEY ("job") REFERENCES "public"."sheet_jobs"("id") ON DELETE cascade ON UPDATE no action;--> statement-breakpoint
CREATE INDEX "sheet_jobs_open" ON "sheet_jobs" USING btree ("state") WHERE "sheet_jobs"."state" in ('queued', 'running');--> statement-breakpoint
CREATE INDEX "sheet_rows_first" ON "sheet_rows" USING btree ("job","first","row");