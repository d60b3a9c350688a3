using Microsoft.EntityFrameworkCore.Migrations;

#nullable disable

namespace SchoolDrills.Api.Data.Migrations
{
    /// <summary>Lists of attempts go by the flight, those without a score yet by their upload; an index on both serves them.</summary>
    public partial class AttemptsByFlight : Migration
    {
        /// <inheritdoc />
        protected override void Up(MigrationBuilder migrationBuilder)
        {
            migrationBuilder.Sql(
                "create index ix_attempts_school_by_flight on attempts (school_id, coalesce(flown_at_utc, uploaded_at_utc) desc, id desc)"
            );
            migrationBuilder.Sql(
                "create index ix_attempts_student_by_flight on attempts (student_id, coalesce(flown_at_utc, uploaded_at_utc) desc, id desc)"
            );
        }

        /// <inheritdoc />
        protected override void Down(MigrationBuilder migrationBuilder)
        {
            migrationBuilder.Sql("drop index ix_attempts_student_by_flight");
            migrationBuilder.Sql("drop index ix_attempts_school_by_flight");
        }
    }
}
