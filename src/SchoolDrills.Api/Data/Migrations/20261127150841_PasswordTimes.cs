using System;
using Microsoft.EntityFrameworkCore.Migrations;

#nullable disable

namespace SchoolDrills.Api.Data.Migrations
{
    /// <inheritdoc />
    public partial class PasswordTimes : Migration
    {
        /// <inheritdoc />
        protected override void Up(MigrationBuilder migrationBuilder)
        {
            migrationBuilder.AddColumn<DateTimeOffset>(
                name: "password_at_utc",
                table: "sessions",
                type: "timestamp with time zone",
                nullable: false,
                defaultValueSql: "'-infinity'");

            // Sessions of before have to give the password again; new ones always say when it was given.
            migrationBuilder.Sql("alter table sessions alter column password_at_utc drop default;");
        }

        /// <inheritdoc />
        protected override void Down(MigrationBuilder migrationBuilder)
        {
            migrationBuilder.DropColumn(
                name: "password_at_utc",
                table: "sessions");
        }
    }
}
