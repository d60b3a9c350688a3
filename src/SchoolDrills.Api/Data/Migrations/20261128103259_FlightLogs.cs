using System;
using Microsoft.EntityFrameworkCore.Migrations;

#nullable disable

namespace SchoolDrills.Api.Data.Migrations
{
    /// <inheritdoc />
    public partial class FlightLogs : Migration
    {
        /// <inheritdoc />
        protected override void Up(MigrationBuilder migrationBuilder)
        {
            migrationBuilder.DropPrimaryKey(
                name: "pk_load_ratings",
                table: "load_ratings");

            migrationBuilder.AddColumn<string>(
                name: "said_by",
                table: "load_ratings",
                type: "character varying(40)",
                maxLength: 40,
                nullable: false,
                defaultValue: "student");

            // Nobody kept who said the ratings so far; from here on whoever writes one says so.
            migrationBuilder.Sql("alter table load_ratings alter column said_by drop default");

            migrationBuilder.AddColumn<Guid>(
                name: "entered_by_id",
                table: "load_ratings",
                type: "uuid",
                nullable: true);

            migrationBuilder.AddColumn<Guid>(
                name: "flight_log_id",
                table: "attempt_events",
                type: "uuid",
                nullable: true);

            migrationBuilder.AddColumn<Guid>(
                name: "noted_by_id",
                table: "attempt_events",
                type: "uuid",
                nullable: true);

            migrationBuilder.AddPrimaryKey(
                name: "pk_load_ratings",
                table: "load_ratings",
                columns: new[] { "attempt_id", "number", "said_by" });

            migrationBuilder.CreateTable(
                name: "flight_logs",
                columns: table => new
                {
                    id = table.Column<Guid>(type: "uuid", nullable: false),
                    school_id = table.Column<Guid>(type: "uuid", nullable: false),
                    assignment_id = table.Column<Guid>(type: "uuid", nullable: false),
                    student_id = table.Column<Guid>(type: "uuid", nullable: false),
                    noted_by_id = table.Column<Guid>(type: "uuid", nullable: false),
                    received_at_utc = table.Column<DateTimeOffset>(type: "timestamp with time zone", nullable: false),
                    started_at_utc = table.Column<DateTimeOffset>(type: "timestamp with time zone", nullable: true),
                    ended_at_utc = table.Column<DateTimeOffset>(type: "timestamp with time zone", nullable: true),
                    clock_ahead_s = table.Column<double>(type: "double precision", nullable: true),
                    sent_minus_arrived_s = table.Column<double>(type: "double precision", nullable: false),
                    by_hand_s = table.Column<double>(type: "double precision", nullable: true),
                    attempt_id = table.Column<Guid>(type: "uuid", nullable: true),
                    events = table.Column<string>(type: "jsonb", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("pk_flight_logs", x => x.id);
                    table.ForeignKey(
                        name: "fk_flight_logs_assignments_assignment_id",
                        column: x => x.assignment_id,
                        principalTable: "assignments",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Restrict);
                    table.ForeignKey(
                        name: "fk_flight_logs_attempts_attempt_id",
                        column: x => x.attempt_id,
                        principalTable: "attempts",
                        principalColumn: "id",
                        onDelete: ReferentialAction.SetNull);
                    table.ForeignKey(
                        name: "fk_flight_logs_people_noted_by_id",
                        column: x => x.noted_by_id,
                        principalTable: "people",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Restrict);
                    table.ForeignKey(
                        name: "fk_flight_logs_people_student_id",
                        column: x => x.student_id,
                        principalTable: "people",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateIndex(
                name: "ix_attempt_events_flight_log_id",
                table: "attempt_events",
                column: "flight_log_id");

            migrationBuilder.CreateIndex(
                name: "ix_flight_logs_assignment_id",
                table: "flight_logs",
                column: "assignment_id");

            migrationBuilder.CreateIndex(
                name: "ix_flight_logs_attempt_id",
                table: "flight_logs",
                column: "attempt_id");

            migrationBuilder.CreateIndex(
                name: "ix_flight_logs_noted_by_id",
                table: "flight_logs",
                column: "noted_by_id");

            migrationBuilder.CreateIndex(
                name: "ix_flight_logs_student_id",
                table: "flight_logs",
                column: "student_id");

            migrationBuilder.AddForeignKey(
                name: "fk_attempt_events_flight_logs_flight_log_id",
                table: "attempt_events",
                column: "flight_log_id",
                principalTable: "flight_logs",
                principalColumn: "id",
                onDelete: ReferentialAction.SetNull);
        }

        /// <inheritdoc />
        protected override void Down(MigrationBuilder migrationBuilder)
        {
            migrationBuilder.DropForeignKey(
                name: "fk_attempt_events_flight_logs_flight_log_id",
                table: "attempt_events");

            migrationBuilder.DropTable(
                name: "flight_logs");

            migrationBuilder.DropPrimaryKey(
                name: "pk_load_ratings",
                table: "load_ratings");

            migrationBuilder.DropIndex(
                name: "ix_attempt_events_flight_log_id",
                table: "attempt_events");

            migrationBuilder.DropColumn(
                name: "said_by",
                table: "load_ratings");

            migrationBuilder.DropColumn(
                name: "entered_by_id",
                table: "load_ratings");

            migrationBuilder.DropColumn(
                name: "flight_log_id",
                table: "attempt_events");

            migrationBuilder.DropColumn(
                name: "noted_by_id",
                table: "attempt_events");

            migrationBuilder.AddPrimaryKey(
                name: "pk_load_ratings",
                table: "load_ratings",
                columns: new[] { "attempt_id", "number" });
        }
    }
}
