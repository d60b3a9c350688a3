using System;
using Microsoft.EntityFrameworkCore.Migrations;
using Npgsql.EntityFrameworkCore.PostgreSQL.Metadata;

#nullable disable

namespace SchoolDrills.Api.Data.Migrations
{
    /// <inheritdoc />
    public partial class FirstSchema : Migration
    {
        /// <inheritdoc />
        protected override void Up(MigrationBuilder migrationBuilder)
        {
            migrationBuilder.CreateTable(
                name: "aircraft_profiles",
                columns: table => new
                {
                    id = table.Column<Guid>(type: "uuid", nullable: false),
                    school_id = table.Column<Guid>(type: "uuid", nullable: false),
                    slug = table.Column<string>(type: "character varying(100)", maxLength: 100, nullable: false),
                    profile = table.Column<string>(type: "jsonb", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("pk_aircraft_profiles", x => x.id);
                });

            migrationBuilder.CreateTable(
                name: "audit_entries",
                columns: table => new
                {
                    id = table.Column<long>(type: "bigint", nullable: false)
                        .Annotation("Npgsql:ValueGenerationStrategy", NpgsqlValueGenerationStrategy.IdentityByDefaultColumn),
                    school_id = table.Column<Guid>(type: "uuid", nullable: false),
                    at_utc = table.Column<DateTimeOffset>(type: "timestamp with time zone", nullable: false),
                    person_id = table.Column<Guid>(type: "uuid", nullable: true),
                    action = table.Column<string>(type: "character varying(60)", maxLength: 60, nullable: false),
                    subject = table.Column<string>(type: "character varying(60)", maxLength: 60, nullable: false),
                    subject_id = table.Column<Guid>(type: "uuid", nullable: false),
                    detail = table.Column<string>(type: "character varying(2000)", maxLength: 2000, nullable: true),
                    ip = table.Column<string>(type: "character varying(45)", maxLength: 45, nullable: true),
                    user_agent = table.Column<string>(type: "character varying(200)", maxLength: 200, nullable: true),
                    changes = table.Column<string>(type: "jsonb", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("pk_audit_entries", x => x.id);
                });

            migrationBuilder.CreateTable(
                name: "data_protection_keys",
                columns: table => new
                {
                    id = table.Column<int>(type: "integer", nullable: false)
                        .Annotation("Npgsql:ValueGenerationStrategy", NpgsqlValueGenerationStrategy.IdentityByDefaultColumn),
                    friendly_name = table.Column<string>(type: "text", nullable: true),
                    xml = table.Column<string>(type: "text", nullable: true)
                },
                constraints: table =>
                {
                    table.PrimaryKey("pk_data_protection_keys", x => x.id);
                });

            migrationBuilder.CreateTable(
                name: "drill_versions",
                columns: table => new
                {
                    id = table.Column<Guid>(type: "uuid", nullable: false),
                    school_id = table.Column<Guid>(type: "uuid", nullable: false),
                    slug = table.Column<string>(type: "character varying(100)", maxLength: 100, nullable: false),
                    version = table.Column<int>(type: "integer", nullable: false),
                    state = table.Column<string>(type: "character varying(20)", maxLength: 20, nullable: false),
                    template = table.Column<string>(type: "jsonb", nullable: false),
                    saved_at_utc = table.Column<DateTimeOffset>(type: "timestamp with time zone", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("pk_drill_versions", x => x.id);
                });

            migrationBuilder.CreateTable(
                name: "first_run_tokens",
                columns: table => new
                {
                    id = table.Column<Guid>(type: "uuid", nullable: false),
                    hash = table.Column<string>(type: "character varying(64)", maxLength: 64, nullable: false),
                    made_at_utc = table.Column<DateTimeOffset>(type: "timestamp with time zone", nullable: false),
                    used_at_utc = table.Column<DateTimeOffset>(type: "timestamp with time zone", nullable: true)
                },
                constraints: table =>
                {
                    table.PrimaryKey("pk_first_run_tokens", x => x.id);
                });

            migrationBuilder.CreateTable(
                name: "schools",
                columns: table => new
                {
                    id = table.Column<Guid>(type: "uuid", nullable: false),
                    name = table.Column<string>(type: "character varying(200)", maxLength: 200, nullable: false),
                    time_zone = table.Column<string>(type: "character varying(100)", maxLength: 100, nullable: false),
                    grade_scale = table.Column<string>(type: "jsonb", nullable: false),
                    grading = table.Column<string>(type: "jsonb", nullable: false),
                    instructors_see_own_students_only = table.Column<bool>(type: "boolean", nullable: false),
                    retention_rules = table.Column<string[]>(type: "text[]", nullable: false),
                    retention_own_years = table.Column<int>(type: "integer", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("pk_schools", x => x.id);
                });

            migrationBuilder.CreateTable(
                name: "sign_in_failures",
                columns: table => new
                {
                    address_hash = table.Column<string>(type: "character varying(64)", maxLength: 64, nullable: false),
                    failures = table.Column<int>(type: "integer", nullable: false),
                    last_at_utc = table.Column<DateTimeOffset>(type: "timestamp with time zone", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("pk_sign_in_failures", x => x.address_hash);
                });

            migrationBuilder.CreateTable(
                name: "tolerance_standards",
                columns: table => new
                {
                    id = table.Column<Guid>(type: "uuid", nullable: false),
                    school_id = table.Column<Guid>(type: "uuid", nullable: false),
                    slug = table.Column<string>(type: "character varying(100)", maxLength: 100, nullable: false),
                    standard = table.Column<string>(type: "jsonb", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("pk_tolerance_standards", x => x.id);
                });

            migrationBuilder.CreateTable(
                name: "people",
                columns: table => new
                {
                    id = table.Column<Guid>(type: "uuid", nullable: false),
                    school_id = table.Column<Guid>(type: "uuid", nullable: false),
                    display_name = table.Column<string>(type: "character varying(200)", maxLength: 200, nullable: false),
                    roles = table.Column<string[]>(type: "text[]", nullable: false),
                    active = table.Column<bool>(type: "boolean", nullable: false),
                    joined_at_utc = table.Column<DateTimeOffset>(type: "timestamp with time zone", nullable: false, defaultValueSql: "now()"),
                    left_at_utc = table.Column<DateTimeOffset>(type: "timestamp with time zone", nullable: true),
                    authenticator_key = table.Column<string>(type: "text", nullable: true),
                    last_code_step = table.Column<long>(type: "bigint", nullable: false),
                    recovery_code_hashes = table.Column<string[]>(type: "text[]", nullable: false, defaultValueSql: "'{}'"),
                    legal_hold = table.Column<bool>(type: "boolean", nullable: false),
                    hold_reason = table.Column<string>(type: "character varying(500)", maxLength: 500, nullable: true),
                    erased_at_utc = table.Column<DateTimeOffset>(type: "timestamp with time zone", nullable: true),
                    user_name = table.Column<string>(type: "character varying(256)", maxLength: 256, nullable: true),
                    normalized_user_name = table.Column<string>(type: "character varying(256)", maxLength: 256, nullable: true),
                    email = table.Column<string>(type: "character varying(256)", maxLength: 256, nullable: true),
                    normalized_email = table.Column<string>(type: "character varying(256)", maxLength: 256, nullable: true),
                    email_confirmed = table.Column<bool>(type: "boolean", nullable: false),
                    password_hash = table.Column<string>(type: "text", nullable: true),
                    security_stamp = table.Column<string>(type: "text", nullable: true),
                    concurrency_stamp = table.Column<string>(type: "text", nullable: true),
                    phone_number = table.Column<string>(type: "text", nullable: true),
                    phone_number_confirmed = table.Column<bool>(type: "boolean", nullable: false),
                    two_factor_enabled = table.Column<bool>(type: "boolean", nullable: false),
                    lockout_end = table.Column<DateTimeOffset>(type: "timestamp with time zone", nullable: true),
                    lockout_enabled = table.Column<bool>(type: "boolean", nullable: false),
                    access_failed_count = table.Column<int>(type: "integer", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("pk_people", x => x.id);
                    table.ForeignKey(
                        name: "fk_people_schools_school_id",
                        column: x => x.school_id,
                        principalTable: "schools",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateTable(
                name: "api_tokens",
                columns: table => new
                {
                    id = table.Column<Guid>(type: "uuid", nullable: false),
                    school_id = table.Column<Guid>(type: "uuid", nullable: false),
                    person_id = table.Column<Guid>(type: "uuid", nullable: false),
                    name = table.Column<string>(type: "character varying(100)", maxLength: 100, nullable: false),
                    scope = table.Column<string>(type: "character varying(20)", maxLength: 20, nullable: false),
                    hash = table.Column<string>(type: "character varying(64)", maxLength: 64, nullable: false),
                    made_at_utc = table.Column<DateTimeOffset>(type: "timestamp with time zone", nullable: false),
                    expires_at_utc = table.Column<DateTimeOffset>(type: "timestamp with time zone", nullable: false),
                    last_used_at_utc = table.Column<DateTimeOffset>(type: "timestamp with time zone", nullable: true),
                    revoked_at_utc = table.Column<DateTimeOffset>(type: "timestamp with time zone", nullable: true)
                },
                constraints: table =>
                {
                    table.PrimaryKey("pk_api_tokens", x => x.id);
                    table.ForeignKey(
                        name: "fk_api_tokens_people_person_id",
                        column: x => x.person_id,
                        principalTable: "people",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Cascade);
                });

            migrationBuilder.CreateTable(
                name: "assignments",
                columns: table => new
                {
                    id = table.Column<Guid>(type: "uuid", nullable: false),
                    school_id = table.Column<Guid>(type: "uuid", nullable: false),
                    student_id = table.Column<Guid>(type: "uuid", nullable: false),
                    drill_version_id = table.Column<Guid>(type: "uuid", nullable: false),
                    assigned_by_id = table.Column<Guid>(type: "uuid", nullable: false),
                    assigned_at_utc = table.Column<DateTimeOffset>(type: "timestamp with time zone", nullable: false),
                    due_on = table.Column<DateOnly>(type: "date", nullable: true),
                    notes = table.Column<string>(type: "character varying(2000)", maxLength: 2000, nullable: true),
                    overrides = table.Column<string>(type: "jsonb", nullable: true),
                    cancelled_at_utc = table.Column<DateTimeOffset>(type: "timestamp with time zone", nullable: true)
                },
                constraints: table =>
                {
                    table.PrimaryKey("pk_assignments", x => x.id);
                    table.ForeignKey(
                        name: "fk_assignments_drill_versions_drill_version_id",
                        column: x => x.drill_version_id,
                        principalTable: "drill_versions",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Restrict);
                    table.ForeignKey(
                        name: "fk_assignments_people_assigned_by_id",
                        column: x => x.assigned_by_id,
                        principalTable: "people",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Restrict);
                    table.ForeignKey(
                        name: "fk_assignments_people_student_id",
                        column: x => x.student_id,
                        principalTable: "people",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateTable(
                name: "column_mappings",
                columns: table => new
                {
                    id = table.Column<Guid>(type: "uuid", nullable: false),
                    school_id = table.Column<Guid>(type: "uuid", nullable: false),
                    fingerprint = table.Column<string>(type: "character varying(64)", maxLength: 64, nullable: false),
                    mapping = table.Column<string>(type: "jsonb", nullable: false),
                    set_by_id = table.Column<Guid>(type: "uuid", nullable: true),
                    by_staff = table.Column<bool>(type: "boolean", nullable: false),
                    set_at_utc = table.Column<DateTimeOffset>(type: "timestamp with time zone", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("pk_column_mappings", x => x.id);
                    table.ForeignKey(
                        name: "fk_column_mappings_people_set_by_id",
                        column: x => x.set_by_id,
                        principalTable: "people",
                        principalColumn: "id",
                        onDelete: ReferentialAction.SetNull);
                });

            migrationBuilder.CreateTable(
                name: "entry_links",
                columns: table => new
                {
                    id = table.Column<Guid>(type: "uuid", nullable: false),
                    school_id = table.Column<Guid>(type: "uuid", nullable: false),
                    person_id = table.Column<Guid>(type: "uuid", nullable: false),
                    kind = table.Column<string>(type: "character varying(20)", maxLength: 20, nullable: false),
                    hash = table.Column<string>(type: "character varying(64)", maxLength: 64, nullable: false),
                    made_at_utc = table.Column<DateTimeOffset>(type: "timestamp with time zone", nullable: false),
                    expires_at_utc = table.Column<DateTimeOffset>(type: "timestamp with time zone", nullable: false),
                    closed_at_utc = table.Column<DateTimeOffset>(type: "timestamp with time zone", nullable: true)
                },
                constraints: table =>
                {
                    table.PrimaryKey("pk_entry_links", x => x.id);
                    table.ForeignKey(
                        name: "fk_entry_links_people_person_id",
                        column: x => x.person_id,
                        principalTable: "people",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Cascade);
                });

            migrationBuilder.CreateTable(
                name: "pending_tracks",
                columns: table => new
                {
                    id = table.Column<Guid>(type: "uuid", nullable: false),
                    school_id = table.Column<Guid>(type: "uuid", nullable: false),
                    person_id = table.Column<Guid>(type: "uuid", nullable: false),
                    sent_at_utc = table.Column<DateTimeOffset>(type: "timestamp with time zone", nullable: false),
                    file_name = table.Column<string>(type: "character varying(200)", maxLength: 200, nullable: false),
                    file_bytes = table.Column<long>(type: "bigint", nullable: false),
                    start_utc = table.Column<DateTimeOffset>(type: "timestamp with time zone", nullable: false),
                    end_utc = table.Column<DateTimeOffset>(type: "timestamp with time zone", nullable: false),
                    meta = table.Column<string>(type: "jsonb", nullable: false),
                    content = table.Column<byte[]>(type: "bytea", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("pk_pending_tracks", x => x.id);
                    table.ForeignKey(
                        name: "fk_pending_tracks_people_person_id",
                        column: x => x.person_id,
                        principalTable: "people",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Cascade);
                });

            migrationBuilder.CreateTable(
                name: "sessions",
                columns: table => new
                {
                    id = table.Column<Guid>(type: "uuid", nullable: false),
                    school_id = table.Column<Guid>(type: "uuid", nullable: false),
                    person_id = table.Column<Guid>(type: "uuid", nullable: false),
                    started_at_utc = table.Column<DateTimeOffset>(type: "timestamp with time zone", nullable: false),
                    expires_at_utc = table.Column<DateTimeOffset>(type: "timestamp with time zone", nullable: false),
                    ended_at_utc = table.Column<DateTimeOffset>(type: "timestamp with time zone", nullable: true),
                    last_seen_at_utc = table.Column<DateTimeOffset>(type: "timestamp with time zone", nullable: false),
                    ip = table.Column<string>(type: "character varying(45)", maxLength: 45, nullable: true),
                    user_agent = table.Column<string>(type: "character varying(200)", maxLength: 200, nullable: true),
                    others = table.Column<string>(type: "jsonb", nullable: false),
                    generation = table.Column<int>(type: "integer", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("pk_sessions", x => x.id);
                    table.ForeignKey(
                        name: "fk_sessions_people_person_id",
                        column: x => x.person_id,
                        principalTable: "people",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Cascade);
                });

            migrationBuilder.CreateTable(
                name: "attempt_corrections",
                columns: table => new
                {
                    attempt_id = table.Column<Guid>(type: "uuid", nullable: false),
                    revision = table.Column<int>(type: "integer", nullable: false),
                    school_id = table.Column<Guid>(type: "uuid", nullable: false),
                    person_id = table.Column<Guid>(type: "uuid", nullable: false),
                    at_utc = table.Column<DateTimeOffset>(type: "timestamp with time zone", nullable: false),
                    reason = table.Column<string>(type: "character varying(2000)", maxLength: 2000, nullable: true),
                    undone = table.Column<bool>(type: "boolean", nullable: false),
                    by_hand = table.Column<string>(type: "jsonb", nullable: false),
                    qnh_hpa = table.Column<double>(type: "double precision", nullable: true),
                    wind_from_deg_true = table.Column<double>(type: "double precision", nullable: true),
                    wind_kt = table.Column<double>(type: "double precision", nullable: true)
                },
                constraints: table =>
                {
                    table.PrimaryKey("pk_attempt_corrections", x => new { x.attempt_id, x.revision });
                    table.ForeignKey(
                        name: "fk_attempt_corrections_people_person_id",
                        column: x => x.person_id,
                        principalTable: "people",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateTable(
                name: "attempt_events",
                columns: table => new
                {
                    attempt_id = table.Column<Guid>(type: "uuid", nullable: false),
                    id = table.Column<Guid>(type: "uuid", nullable: false),
                    school_id = table.Column<Guid>(type: "uuid", nullable: false),
                    kind = table.Column<string>(type: "character varying(60)", maxLength: 60, nullable: false),
                    at_utc = table.Column<DateTimeOffset>(type: "timestamp with time zone", nullable: false),
                    detail = table.Column<string>(type: "character varying(2000)", maxLength: 2000, nullable: true)
                },
                constraints: table =>
                {
                    table.PrimaryKey("pk_attempt_events", x => new { x.attempt_id, x.id });
                });

            migrationBuilder.CreateTable(
                name: "attempts",
                columns: table => new
                {
                    id = table.Column<Guid>(type: "uuid", nullable: false),
                    school_id = table.Column<Guid>(type: "uuid", nullable: false),
                    student_id = table.Column<Guid>(type: "uuid", nullable: false),
                    assignment_id = table.Column<Guid>(type: "uuid", nullable: true),
                    drill_version_id = table.Column<Guid>(type: "uuid", nullable: false),
                    uploaded_by_id = table.Column<Guid>(type: "uuid", nullable: false),
                    uploaded_at_utc = table.Column<DateTimeOffset>(type: "timestamp with time zone", nullable: false),
                    file_name = table.Column<string>(type: "character varying(200)", maxLength: 200, nullable: false),
                    file_bytes = table.Column<long>(type: "bigint", nullable: false),
                    sha256 = table.Column<string>(type: "character varying(64)", maxLength: 64, nullable: false),
                    meta = table.Column<string>(type: "jsonb", nullable: false),
                    status = table.Column<string>(type: "character varying(40)", maxLength: 40, nullable: false),
                    stage = table.Column<string>(type: "character varying(40)", maxLength: 40, nullable: true),
                    reason = table.Column<string>(type: "text", nullable: true),
                    job_id = table.Column<string>(type: "character varying(40)", maxLength: 40, nullable: true),
                    revision = table.Column<int>(type: "integer", nullable: false),
                    scored_with = table.Column<string>(type: "character varying(40)", maxLength: 40, nullable: true),
                    latest_report_id = table.Column<Guid>(type: "uuid", nullable: true),
                    flown_at_utc = table.Column<DateTimeOffset>(type: "timestamp with time zone", nullable: true),
                    within_share = table.Column<double>(type: "double precision", nullable: true),
                    verdict = table.Column<string>(type: "character varying(40)", maxLength: 40, nullable: true),
                    ribbon = table.Column<string>(type: "jsonb", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("pk_attempts", x => x.id);
                    table.ForeignKey(
                        name: "fk_attempts_assignments_assignment_id",
                        column: x => x.assignment_id,
                        principalTable: "assignments",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Restrict);
                    table.ForeignKey(
                        name: "fk_attempts_drill_versions_drill_version_id",
                        column: x => x.drill_version_id,
                        principalTable: "drill_versions",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Restrict);
                    table.ForeignKey(
                        name: "fk_attempts_people_student_id",
                        column: x => x.student_id,
                        principalTable: "people",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Restrict);
                    table.ForeignKey(
                        name: "fk_attempts_people_uploaded_by_id",
                        column: x => x.uploaded_by_id,
                        principalTable: "people",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateTable(
                name: "load_ratings",
                columns: table => new
                {
                    attempt_id = table.Column<Guid>(type: "uuid", nullable: false),
                    number = table.Column<int>(type: "integer", nullable: false),
                    school_id = table.Column<Guid>(type: "uuid", nullable: false),
                    rating = table.Column<int>(type: "integer", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("pk_load_ratings", x => new { x.attempt_id, x.number });
                    table.ForeignKey(
                        name: "fk_load_ratings_attempts_attempt_id",
                        column: x => x.attempt_id,
                        principalTable: "attempts",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Cascade);
                });

            migrationBuilder.CreateTable(
                name: "score_reports",
                columns: table => new
                {
                    id = table.Column<Guid>(type: "uuid", nullable: false),
                    school_id = table.Column<Guid>(type: "uuid", nullable: false),
                    attempt_id = table.Column<Guid>(type: "uuid", nullable: false),
                    engine_version = table.Column<string>(type: "character varying(40)", maxLength: 40, nullable: false),
                    revision = table.Column<int>(type: "integer", nullable: false),
                    corrected = table.Column<bool>(type: "boolean", nullable: false),
                    scored_at_utc = table.Column<DateTimeOffset>(type: "timestamp with time zone", nullable: false),
                    report = table.Column<string>(type: "jsonb", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("pk_score_reports", x => x.id);
                    table.ForeignKey(
                        name: "fk_score_reports_attempts_attempt_id",
                        column: x => x.attempt_id,
                        principalTable: "attempts",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Cascade);
                });

            migrationBuilder.CreateTable(
                name: "self_assessments",
                columns: table => new
                {
                    attempt_id = table.Column<Guid>(type: "uuid", nullable: false),
                    school_id = table.Column<Guid>(type: "uuid", nullable: false),
                    given_at_utc = table.Column<DateTimeOffset>(type: "timestamp with time zone", nullable: true),
                    skipped_at_utc = table.Column<DateTimeOffset>(type: "timestamp with time zone", nullable: true),
                    segments = table.Column<string>(type: "jsonb", nullable: false),
                    load_ratings = table.Column<string>(type: "jsonb", nullable: false),
                    comment = table.Column<string>(type: "character varying(4000)", maxLength: 4000, nullable: true)
                },
                constraints: table =>
                {
                    table.PrimaryKey("pk_self_assessments", x => x.attempt_id);
                    table.ForeignKey(
                        name: "fk_self_assessments_attempts_attempt_id",
                        column: x => x.attempt_id,
                        principalTable: "attempts",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Cascade);
                });

            migrationBuilder.CreateTable(
                name: "track_files",
                columns: table => new
                {
                    attempt_id = table.Column<Guid>(type: "uuid", nullable: false),
                    school_id = table.Column<Guid>(type: "uuid", nullable: false),
                    squeezed = table.Column<bool>(type: "boolean", nullable: false),
                    content = table.Column<byte[]>(type: "bytea", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("pk_track_files", x => x.attempt_id);
                    table.ForeignKey(
                        name: "fk_track_files_attempts_attempt_id",
                        column: x => x.attempt_id,
                        principalTable: "attempts",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Cascade);
                });

            migrationBuilder.CreateTable(
                name: "grades",
                columns: table => new
                {
                    id = table.Column<Guid>(type: "uuid", nullable: false),
                    school_id = table.Column<Guid>(type: "uuid", nullable: false),
                    attempt_id = table.Column<Guid>(type: "uuid", nullable: false),
                    number = table.Column<int>(type: "integer", nullable: false),
                    instructor_id = table.Column<Guid>(type: "uuid", nullable: false),
                    overall = table.Column<string>(type: "character varying(60)", maxLength: 60, nullable: false),
                    segments = table.Column<string>(type: "jsonb", nullable: false),
                    comment = table.Column<string>(type: "character varying(8000)", maxLength: 8000, nullable: true),
                    amendment_reason = table.Column<string>(type: "character varying(2000)", maxLength: 2000, nullable: true),
                    saved_at_utc = table.Column<DateTimeOffset>(type: "timestamp with time zone", nullable: false),
                    signed_at_utc = table.Column<DateTimeOffset>(type: "timestamp with time zone", nullable: true),
                    report_id = table.Column<Guid>(type: "uuid", nullable: true),
                    xmin = table.Column<uint>(type: "xid", rowVersion: true, nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("pk_grades", x => x.id);
                    table.ForeignKey(
                        name: "fk_grades_attempts_attempt_id",
                        column: x => x.attempt_id,
                        principalTable: "attempts",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Restrict);
                    table.ForeignKey(
                        name: "fk_grades_people_instructor_id",
                        column: x => x.instructor_id,
                        principalTable: "people",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Restrict);
                    table.ForeignKey(
                        name: "fk_grades_score_reports_report_id",
                        column: x => x.report_id,
                        principalTable: "score_reports",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateTable(
                name: "segment_results",
                columns: table => new
                {
                    report_id = table.Column<Guid>(type: "uuid", nullable: false),
                    segment_index = table.Column<int>(type: "integer", nullable: false),
                    parameter = table.Column<string>(type: "character varying(40)", maxLength: 40, nullable: false),
                    school_id = table.Column<Guid>(type: "uuid", nullable: false),
                    attempt_id = table.Column<Guid>(type: "uuid", nullable: false),
                    student_id = table.Column<Guid>(type: "uuid", nullable: false),
                    drill_slug = table.Column<string>(type: "character varying(100)", maxLength: 100, nullable: false),
                    kind = table.Column<string>(type: "character varying(40)", maxLength: 40, nullable: false),
                    flown_at_utc = table.Column<DateTimeOffset>(type: "timestamp with time zone", nullable: false),
                    duration_s = table.Column<double>(type: "double precision", nullable: false),
                    within_share = table.Column<double>(type: "double precision", nullable: true),
                    verdict = table.Column<string>(type: "character varying(40)", maxLength: 40, nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("pk_segment_results", x => new { x.report_id, x.segment_index, x.parameter });
                    table.ForeignKey(
                        name: "fk_segment_results_score_reports_report_id",
                        column: x => x.report_id,
                        principalTable: "score_reports",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Cascade);
                });

            migrationBuilder.CreateTable(
                name: "track_plots",
                columns: table => new
                {
                    report_id = table.Column<Guid>(type: "uuid", nullable: false),
                    school_id = table.Column<Guid>(type: "uuid", nullable: false),
                    columns = table.Column<byte[]>(type: "bytea", nullable: false)
                },
                constraints: table =>
                {
                    table.PrimaryKey("pk_track_plots", x => x.report_id);
                    table.ForeignKey(
                        name: "fk_track_plots_score_reports_report_id",
                        column: x => x.report_id,
                        principalTable: "score_reports",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Cascade);
                });

            migrationBuilder.CreateTable(
                name: "grade_acknowledgements",
                columns: table => new
                {
                    grade_id = table.Column<Guid>(type: "uuid", nullable: false),
                    school_id = table.Column<Guid>(type: "uuid", nullable: false),
                    at_utc = table.Column<DateTimeOffset>(type: "timestamp with time zone", nullable: false),
                    reply = table.Column<string>(type: "character varying(4000)", maxLength: 4000, nullable: true)
                },
                constraints: table =>
                {
                    table.PrimaryKey("pk_grade_acknowledgements", x => x.grade_id);
                    table.ForeignKey(
                        name: "fk_grade_acknowledgements_grades_grade_id",
                        column: x => x.grade_id,
                        principalTable: "grades",
                        principalColumn: "id",
                        onDelete: ReferentialAction.Restrict);
                });

            migrationBuilder.CreateIndex(
                name: "ix_aircraft_profiles_school_id_slug",
                table: "aircraft_profiles",
                columns: new[] { "school_id", "slug" },
                unique: true);

            migrationBuilder.CreateIndex(
                name: "ix_api_tokens_hash",
                table: "api_tokens",
                column: "hash",
                unique: true);

            migrationBuilder.CreateIndex(
                name: "ix_api_tokens_person_id",
                table: "api_tokens",
                column: "person_id");

            migrationBuilder.CreateIndex(
                name: "ix_assignments_assigned_by_id",
                table: "assignments",
                column: "assigned_by_id");

            migrationBuilder.CreateIndex(
                name: "ix_assignments_drill_version_id",
                table: "assignments",
                column: "drill_version_id");

            migrationBuilder.CreateIndex(
                name: "ix_assignments_student_id_due_on",
                table: "assignments",
                columns: new[] { "student_id", "due_on" });

            migrationBuilder.CreateIndex(
                name: "ix_attempt_corrections_person_id",
                table: "attempt_corrections",
                column: "person_id");

            migrationBuilder.CreateIndex(
                name: "ix_attempts_assignment_id_sha256",
                table: "attempts",
                columns: new[] { "assignment_id", "sha256" },
                unique: true);

            migrationBuilder.CreateIndex(
                name: "ix_attempts_drill_version_id",
                table: "attempts",
                column: "drill_version_id");

            migrationBuilder.CreateIndex(
                name: "ix_attempts_latest_report_id",
                table: "attempts",
                column: "latest_report_id");

            migrationBuilder.CreateIndex(
                name: "ix_attempts_school_id_uploaded_at_utc",
                table: "attempts",
                columns: new[] { "school_id", "uploaded_at_utc" });

            migrationBuilder.CreateIndex(
                name: "ix_attempts_student_id_drill_version_id_sha256",
                table: "attempts",
                columns: new[] { "student_id", "drill_version_id", "sha256" },
                unique: true,
                filter: "assignment_id is null");

            migrationBuilder.CreateIndex(
                name: "ix_attempts_unscored",
                table: "attempts",
                column: "uploaded_at_utc",
                filter: "status in ('queued', 'scoring')");

            migrationBuilder.CreateIndex(
                name: "ix_attempts_uploaded_by_id",
                table: "attempts",
                column: "uploaded_by_id");

            migrationBuilder.CreateIndex(
                name: "ix_audit_entries_school_id_at_utc",
                table: "audit_entries",
                columns: new[] { "school_id", "at_utc" });

            migrationBuilder.CreateIndex(
                name: "ix_column_mappings_school_id_fingerprint_set_at_utc",
                table: "column_mappings",
                columns: new[] { "school_id", "fingerprint", "set_at_utc" });

            migrationBuilder.CreateIndex(
                name: "ix_column_mappings_set_by_id",
                table: "column_mappings",
                column: "set_by_id");

            migrationBuilder.CreateIndex(
                name: "ix_drill_versions_school_id_slug_version",
                table: "drill_versions",
                columns: new[] { "school_id", "slug", "version" },
                unique: true);

            migrationBuilder.CreateIndex(
                name: "ix_entry_links_hash",
                table: "entry_links",
                column: "hash",
                unique: true);

            migrationBuilder.CreateIndex(
                name: "ix_entry_links_person_id",
                table: "entry_links",
                column: "person_id");

            migrationBuilder.CreateIndex(
                name: "ix_first_run_tokens_hash",
                table: "first_run_tokens",
                column: "hash",
                unique: true);

            migrationBuilder.CreateIndex(
                name: "ix_grades_attempt_id_number",
                table: "grades",
                columns: new[] { "attempt_id", "number" },
                unique: true);

            migrationBuilder.CreateIndex(
                name: "ix_grades_instructor_id",
                table: "grades",
                column: "instructor_id");

            migrationBuilder.CreateIndex(
                name: "ix_grades_report_id",
                table: "grades",
                column: "report_id");

            migrationBuilder.CreateIndex(
                name: "ix_pending_tracks_person_id_sent_at_utc",
                table: "pending_tracks",
                columns: new[] { "person_id", "sent_at_utc" });

            migrationBuilder.CreateIndex(
                name: "ix_people_normalized_email",
                table: "people",
                column: "normalized_email");

            migrationBuilder.CreateIndex(
                name: "ix_people_school_id_normalized_email",
                table: "people",
                columns: new[] { "school_id", "normalized_email" },
                unique: true);

            migrationBuilder.CreateIndex(
                name: "ix_people_school_id_normalized_user_name",
                table: "people",
                columns: new[] { "school_id", "normalized_user_name" },
                unique: true);

            migrationBuilder.CreateIndex(
                name: "ix_score_reports_attempt_id_engine_version_revision_corrected",
                table: "score_reports",
                columns: new[] { "attempt_id", "engine_version", "revision", "corrected" },
                unique: true);

            migrationBuilder.CreateIndex(
                name: "ix_segment_results_student_id_flown_at_utc",
                table: "segment_results",
                columns: new[] { "student_id", "flown_at_utc" });

            migrationBuilder.CreateIndex(
                name: "ix_sessions_person_id",
                table: "sessions",
                column: "person_id");

            migrationBuilder.CreateIndex(
                name: "ix_sign_in_failures_last_at_utc",
                table: "sign_in_failures",
                column: "last_at_utc");

            migrationBuilder.CreateIndex(
                name: "ix_tolerance_standards_school_id_slug",
                table: "tolerance_standards",
                columns: new[] { "school_id", "slug" },
                unique: true);

            migrationBuilder.AddForeignKey(
                name: "fk_attempt_corrections_attempts_attempt_id",
                table: "attempt_corrections",
                column: "attempt_id",
                principalTable: "attempts",
                principalColumn: "id",
                onDelete: ReferentialAction.Cascade);

            migrationBuilder.AddForeignKey(
                name: "fk_attempt_events_attempts_attempt_id",
                table: "attempt_events",
                column: "attempt_id",
                principalTable: "attempts",
                principalColumn: "id",
                onDelete: ReferentialAction.Cascade);

            migrationBuilder.AddForeignKey(
                name: "fk_attempts_score_reports_latest_report_id",
                table: "attempts",
                column: "latest_report_id",
                principalTable: "score_reports",
                principalColumn: "id",
                onDelete: ReferentialAction.SetNull);
        }

        /// <inheritdoc />
        protected override void Down(MigrationBuilder migrationBuilder)
        {
            migrationBuilder.DropForeignKey(
                name: "fk_assignments_people_assigned_by_id",
                table: "assignments");

            migrationBuilder.DropForeignKey(
                name: "fk_assignments_people_student_id",
                table: "assignments");

            migrationBuilder.DropForeignKey(
                name: "fk_attempts_people_student_id",
                table: "attempts");

            migrationBuilder.DropForeignKey(
                name: "fk_attempts_people_uploaded_by_id",
                table: "attempts");

            migrationBuilder.DropForeignKey(
                name: "fk_assignments_drill_versions_drill_version_id",
                table: "assignments");

            migrationBuilder.DropForeignKey(
                name: "fk_attempts_drill_versions_drill_version_id",
                table: "attempts");

            migrationBuilder.DropForeignKey(
                name: "fk_score_reports_attempts_attempt_id",
                table: "score_reports");

            migrationBuilder.DropTable(
                name: "aircraft_profiles");

            migrationBuilder.DropTable(
                name: "api_tokens");

            migrationBuilder.DropTable(
                name: "attempt_corrections");

            migrationBuilder.DropTable(
                name: "attempt_events");

            migrationBuilder.DropTable(
                name: "audit_entries");

            migrationBuilder.DropTable(
                name: "column_mappings");

            migrationBuilder.DropTable(
                name: "data_protection_keys");

            migrationBuilder.DropTable(
                name: "entry_links");

            migrationBuilder.DropTable(
                name: "first_run_tokens");

            migrationBuilder.DropTable(
                name: "grade_acknowledgements");

            migrationBuilder.DropTable(
                name: "load_ratings");

            migrationBuilder.DropTable(
                name: "pending_tracks");

            migrationBuilder.DropTable(
                name: "segment_results");

            migrationBuilder.DropTable(
                name: "self_assessments");

            migrationBuilder.DropTable(
                name: "sessions");

            migrationBuilder.DropTable(
                name: "sign_in_failures");

            migrationBuilder.DropTable(
                name: "tolerance_standards");

            migrationBuilder.DropTable(
                name: "track_files");

            migrationBuilder.DropTable(
                name: "track_plots");

            migrationBuilder.DropTable(
                name: "grades");

            migrationBuilder.DropTable(
                name: "people");

            migrationBuilder.DropTable(
                name: "schools");

            migrationBuilder.DropTable(
                name: "drill_versions");

            migrationBuilder.DropTable(
                name: "attempts");

            migrationBuilder.DropTable(
                name: "assignments");

            migrationBuilder.DropTable(
                name: "score_reports");
        }
    }
}
