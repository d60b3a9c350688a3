using System;
using Microsoft.EntityFrameworkCore.Migrations;

#nullable disable

namespace SchoolDrills.Api.Data.Migrations
{
    /// <inheritdoc />
    public partial class PlansAndAreas : Migration
    {
        /// <inheritdoc />
        protected override void Up(MigrationBuilder migrationBuilder)
        {
            migrationBuilder.CreateTable(
                name: "assignment_plans",
                columns: table => new
                {
                    assignment_id = table.Column<Guid>(type: "uuid", nullable: false),
                    school_id = table.Column<Guid>(type: "uuid", nullable: false),
                    student_id = table.Column<Guid>(type: "uuid", nullable: false),
                    asked = table.Column<string>(type: "jsonb", nullable: false),
                    drill_version = table.Column<int>(type: "integer", nullable: false),
                    revision = table.Column<int>(type: "integer", nullable: false),
                    planned_by_id = table.Column<Guid>(type: "uuid", nullable: false),
                    planned_at_utc = table.Column<DateTimeOffset>(type: "timestamp with time zone", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("pk_assignment_plans", x => x.assignment_id);
                    table.ForeignKey(
                        name: "fk_assignment_plans_assignments_assignment_id",
                        column: x => x.assignment_id,
                        principalTable: "assignments",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Cascade);
                    table.ForeignKey(
                        name: "fk_assignment_plans_people_planned_by_id",
                        column: x => x.planned_by_id,
                        principalTable: "people",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Restrict);
                    table.ForeignKey(
                        name: "fk_assignment_plans_people_student_id",
                        column: x => x.student_id,
                        principalTable: "people",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateTable(
                name: "practice_areas",
                columns: table => new
                {
                    id = table.Column<Guid>(type: "uuid", nullable: false),
                    school_id = table.Column<Guid>(type: "uuid", nullable: false),
                    name = table.Column<string>(type: "character varying(80)", maxLength: 80, nullable: false),
                    floor_ft = table.Column<double>(type: "double precision", nullable: false),
                    ceiling_ft = table.Column<double>(type: "double precision", nullable: true),
                    corners = table.Column<string>(type: "jsonb", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("pk_practice_areas", x => x.id);
                });

            migrationBuilder.CreateIndex(
                name: "ix_assignment_plans_planned_by_id",
                table: "assignment_plans",
                column: "planned_by_id");

            migrationBuilder.CreateIndex(
                name: "ix_assignment_plans_student_id",
                table: "assignment_plans",
                column: "student_id");

            migrationBuilder.CreateIndex(
                name: "ix_practice_areas_school_id_name",
                table: "practice_areas",
                columns: new[] { "school_id", "name" },
                unique: true);
        }

        /// <inheritdoc />
        protected override void Down(MigrationBuilder migrationBuilder)
        {
            migrationBuilder.DropTable(
                name: "assignment_plans");

            migrationBuilder.DropTable(
                name: "practice_areas");
        }
    }
}
