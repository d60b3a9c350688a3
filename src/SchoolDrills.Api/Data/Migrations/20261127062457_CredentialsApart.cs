using System;
using Microsoft.EntityFrameworkCore.Migrations;

#nullable disable

namespace SchoolDrills.Api.Data.Migrations
{
    /// <inheritdoc />
    public partial class CredentialsApart : Migration
    {
        /// <inheritdoc />
        protected override void Up(MigrationBuilder migrationBuilder)
        {
            migrationBuilder.CreateTable(
                name: "credentials",
                columns: table => new
                {
                    person_id = table.Column<Guid>(type: "uuid", nullable: false),
                    school_id = table.Column<Guid>(type: "uuid", nullable: false),
                    password_hash = table.Column<string>(type: "text", nullable: true),
                    authenticator_key = table.Column<string>(type: "text", nullable: true),
                    last_code_step = table.Column<long>(type: "bigint", nullable: false),
                    recovery_code_hashes = table.Column<string[]>(type: "text[]", nullable: false, defaultValueSql: "'{}'"),
                    xmin = table.Column<uint>(type: "xid", rowVersion: true, nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("pk_credentials", x => x.person_id);
                    table.ForeignKey(
                        name: "fk_credentials_people_person_id",
                        column: x => x.person_id,
                        principalTable: "people",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Cascade);
                });

            migrationBuilder.AddColumn<bool>(
                name: "has_accepted",
                table: "people",
                type: "boolean",
                nullable: false,
                defaultValue: false);

            // The owner of a server of one's own may be under row-level security too, and would copy nothing.
            migrationBuilder.Sql(
                """
                alter table people no force row level security;
                insert into credentials (person_id, school_id, password_hash, authenticator_key, last_code_step, recovery_code_hashes)
                  select id, school_id, password_hash, authenticator_key, last_code_step, recovery_code_hashes from people;
                update people set has_accepted = password_hash is not null;
                alter table people force row level security;
                """);

            migrationBuilder.DropIndex(
                name: "ix_people_school_id_normalized_user_name",
                table: "people");

            migrationBuilder.DropColumn(
                name: "access_failed_count",
                table: "people");

            migrationBuilder.DropColumn(
                name: "authenticator_key",
                table: "people");

            migrationBuilder.DropColumn(
                name: "concurrency_stamp",
                table: "people");

            migrationBuilder.DropColumn(
                name: "email_confirmed",
                table: "people");

            migrationBuilder.DropColumn(
                name: "last_code_step",
                table: "people");

            migrationBuilder.DropColumn(
                name: "lockout_enabled",
                table: "people");

            migrationBuilder.DropColumn(
                name: "lockout_end",
                table: "people");

            migrationBuilder.DropColumn(
                name: "normalized_user_name",
                table: "people");

            migrationBuilder.DropColumn(
                name: "password_hash",
                table: "people");

            migrationBuilder.DropColumn(
                name: "phone_number",
                table: "people");

            migrationBuilder.DropColumn(
                name: "recovery_code_hashes",
                table: "people");

            migrationBuilder.DropColumn(
                name: "security_stamp",
                table: "people");

            migrationBuilder.DropColumn(
                name: "user_name",
                table: "people");

            migrationBuilder.DropColumn(
                name: "phone_number_confirmed",
                table: "people");
        }

        /// <inheritdoc />
        protected override void Down(MigrationBuilder migrationBuilder)
        {
            migrationBuilder.AddColumn<int>(
                name: "access_failed_count",
                table: "people",
                type: "integer",
                nullable: false,
                defaultValue: 0);

            migrationBuilder.AddColumn<string>(
                name: "authenticator_key",
                table: "people",
                type: "text",
                nullable: true);

            migrationBuilder.AddColumn<string>(
                name: "concurrency_stamp",
                table: "people",
                type: "text",
                nullable: true);

            migrationBuilder.AddColumn<bool>(
                name: "email_confirmed",
                table: "people",
                type: "boolean",
                nullable: false,
                defaultValue: false);

            migrationBuilder.AddColumn<long>(
                name: "last_code_step",
                table: "people",
                type: "bigint",
                nullable: false,
                defaultValue: 0L);

            migrationBuilder.AddColumn<bool>(
                name: "lockout_enabled",
                table: "people",
                type: "boolean",
                nullable: false,
                defaultValue: false);

            migrationBuilder.AddColumn<DateTimeOffset>(
                name: "lockout_end",
                table: "people",
                type: "timestamp with time zone",
                nullable: true);

            migrationBuilder.AddColumn<string>(
                name: "normalized_user_name",
                table: "people",
                type: "character varying(256)",
                maxLength: 256,
                nullable: true);

            migrationBuilder.AddColumn<string>(
                name: "password_hash",
                table: "people",
                type: "text",
                nullable: true);

            migrationBuilder.AddColumn<string>(
                name: "phone_number",
                table: "people",
                type: "text",
                nullable: true);

            migrationBuilder.AddColumn<string[]>(
                name: "recovery_code_hashes",
                table: "people",
                type: "text[]",
                nullable: false,
                defaultValueSql: "'{}'");

            migrationBuilder.AddColumn<string>(
                name: "security_stamp",
                table: "people",
                type: "text",
                nullable: true);

            migrationBuilder.AddColumn<string>(
                name: "user_name",
                table: "people",
                type: "character varying(256)",
                maxLength: 256,
                nullable: true);

            migrationBuilder.AddColumn<bool>(
                name: "phone_number_confirmed",
                table: "people",
                type: "boolean",
                nullable: false,
                defaultValue: false);

            migrationBuilder.Sql(
                """
                alter table people no force row level security;
                alter table credentials no force row level security;
                update people set user_name = email, normalized_user_name = normalized_email, password_hash = c.password_hash,
                  authenticator_key = c.authenticator_key, last_code_step = c.last_code_step, recovery_code_hashes = c.recovery_code_hashes
                  from credentials c where c.person_id = people.id;
                alter table people force row level security;
                """);

            migrationBuilder.DropColumn(
                name: "has_accepted",
                table: "people");

            migrationBuilder.DropTable(
                name: "credentials");

            migrationBuilder.CreateIndex(
                name: "ix_people_school_id_normalized_user_name",
                table: "people",
                columns: new[] { "school_id", "normalized_user_name" },
                unique: true);
        }
    }
}
