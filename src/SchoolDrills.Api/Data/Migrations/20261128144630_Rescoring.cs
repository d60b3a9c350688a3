using System;
using Microsoft.EntityFrameworkCore.Migrations;

#nullable disable

namespace SchoolDrills.Api.Data.Migrations
{
    /// <inheritdoc />
    public partial class Rescoring : Migration
    {
        /// <inheritdoc />
        protected override void Up(MigrationBuilder migrationBuilder)
        {
            migrationBuilder.CreateTable(
                name: "rescorings",
                columns: table => new
                {
                    id = table.Column<Guid>(type: "uuid", nullable: false),
                    school_id = table.Column<Guid>(type: "uuid", nullable: false),
                    engine_version = table.Column<string>(type: "character varying(40)", maxLength: 40, nullable: false),
                    started_at_utc = table.Column<DateTimeOffset>(type: "timestamp with time zone", nullable: false),
                    started_by_id = table.Column<Guid>(type: "uuid", nullable: true),
                    choice = table.Column<string>(type: "jsonb", nullable: false),
                    chosen = table.Column<int>(type: "integer", nullable: false),
                    job_id = table.Column<string>(type: "character varying(40)", maxLength: 40, nullable: true),
                    ended_at_utc = table.Column<DateTimeOffset>(type: "timestamp with time zone", nullable: true),
                    stopped_by_id = table.Column<Guid>(type: "uuid", nullable: true)
                },
                constraints: table =>
                {
                    table.PrimaryKey("pk_rescorings", x => x.id);
                    table.ForeignKey(
                        name: "fk_rescorings_people_started_by_id",
                        column: x => x.started_by_id,
                        principalTable: "people",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Restrict);
                    table.ForeignKey(
                        name: "fk_rescorings_people_stopped_by_id",
                        column: x => x.stopped_by_id,
                        principalTable: "people",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateTable(
                name: "rescoring_items",
                columns: table => new
                {
                    rescoring_id = table.Column<Guid>(type: "uuid", nullable: false),
                    attempt_id = table.Column<Guid>(type: "uuid", nullable: false),
                    school_id = table.Column<Guid>(type: "uuid", nullable: false),
                    number = table.Column<long>(type: "bigint", nullable: false),
                    outcome = table.Column<string>(type: "character varying(40)", maxLength: 40, nullable: false),
                    begun_at_utc = table.Column<DateTimeOffset>(type: "timestamp with time zone", nullable: true),
                    engine_before = table.Column<string>(type: "character varying(40)", maxLength: 40, nullable: true),
                    verdict_before = table.Column<string>(type: "character varying(40)", maxLength: 40, nullable: true),
                    within_share_before = table.Column<double>(type: "double precision", nullable: true),
                    verdict_after = table.Column<string>(type: "character varying(40)", maxLength: 40, nullable: true),
                    within_share_after = table.Column<double>(type: "double precision", nullable: true),
                    failure = table.Column<string>(type: "text", nullable: true)
                },
                constraints: table =>
                {
                    table.PrimaryKey("pk_rescoring_items", x => new { x.rescoring_id, x.attempt_id });
                    table.ForeignKey(
                        name: "fk_rescoring_items_attempts_attempt_id",
                        column: x => x.attempt_id,
                        principalTable: "attempts",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Cascade);
                    table.ForeignKey(
                        name: "fk_rescoring_items_rescorings_rescoring_id",
                        column: x => x.rescoring_id,
                        principalTable: "rescorings",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Cascade);
                });

            migrationBuilder.CreateIndex(
                name: "ix_rescoring_items_attempt_id",
                table: "rescoring_items",
                column: "attempt_id");

            migrationBuilder.CreateIndex(
                name: "ix_rescoring_items_rescoring_id_outcome_number",
                table: "rescoring_items",
                columns: new[] { "rescoring_id", "outcome", "number" });

            migrationBuilder.CreateIndex(
                name: "ix_rescorings_running",
                table: "rescorings",
                column: "school_id",
                unique: true,
                filter: "ended_at_utc is null");

            migrationBuilder.CreateIndex(
                name: "ix_rescorings_school_id_started_at_utc",
                table: "rescorings",
                columns: new[] { "school_id", "started_at_utc" });

            migrationBuilder.CreateIndex(
                name: "ix_rescorings_started_by_id",
                table: "rescorings",
                column: "started_by_id");

            migrationBuilder.CreateIndex(
                name: "ix_rescorings_stopped_by_id",
                table: "rescorings",
                column: "stopped_by_id");
        }

        /// <inheritdoc />
        protected override void Down(MigrationBuilder migrationBuilder)
        {
            migrationBuilder.DropTable(
                name: "rescoring_items");

            migrationBuilder.DropTable(
                name: "rescorings");
        }
    }
}
