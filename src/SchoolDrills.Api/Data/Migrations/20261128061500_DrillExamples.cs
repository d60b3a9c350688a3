using System;
using Microsoft.EntityFrameworkCore.Migrations;

#nullable disable

namespace SchoolDrills.Api.Data.Migrations
{
    /// <inheritdoc />
    public partial class DrillExamples : Migration
    {
        /// <inheritdoc />
        protected override void Up(MigrationBuilder migrationBuilder)
        {
            migrationBuilder.CreateTable(
                name: "drill_examples",
                columns: table => new
                {
                    drill_version_id = table.Column<Guid>(type: "uuid", nullable: false),
                    school_id = table.Column<Guid>(type: "uuid", nullable: false),
                    attempt_id = table.Column<Guid>(type: "uuid", nullable: false),
                    marked_by_id = table.Column<Guid>(type: "uuid", nullable: false),
                    marked_at_utc = table.Column<DateTimeOffset>(type: "timestamp with time zone", nullable: false),
                    plot = table.Column<string>(type: "jsonb", nullable: false),
                    ribbon = table.Column<string>(type: "jsonb", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("pk_drill_examples", x => x.drill_version_id);
                    table.ForeignKey(
                        name: "fk_drill_examples_attempts_attempt_id",
                        column: x => x.attempt_id,
                        principalTable: "attempts",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Cascade);
                    table.ForeignKey(
                        name: "fk_drill_examples_drill_versions_drill_version_id",
                        column: x => x.drill_version_id,
                        principalTable: "drill_versions",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Cascade);
                    table.ForeignKey(
                        name: "fk_drill_examples_people_marked_by_id",
                        column: x => x.marked_by_id,
                        principalTable: "people",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateIndex(
                name: "ix_drill_examples_attempt_id",
                table: "drill_examples",
                column: "attempt_id");

            migrationBuilder.CreateIndex(
                name: "ix_drill_examples_marked_by_id",
                table: "drill_examples",
                column: "marked_by_id");
        }

        /// <inheritdoc />
        protected override void Down(MigrationBuilder migrationBuilder)
        {
            migrationBuilder.DropTable(
                name: "drill_examples");
        }
    }
}
