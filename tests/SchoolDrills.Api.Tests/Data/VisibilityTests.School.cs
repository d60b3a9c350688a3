using SchoolDrills.Api.Attempts;
using SchoolDrills.Api.Rescoring;
using SchoolDrills.Contracts;
using SchoolDrills.Engine.Scoring;

namespace SchoolDrills.Api.Tests.Data;

public sealed partial class VisibilityTests
{
    /// <summary>Two schools where one student has something in every table of students' work.</summary>
    public sealed class StudentAtWork : SchoolsFixture
    {
        public Guid AttemptId { get; private set; }

        public override async ValueTask InitializeAsync()
        {
            await base.InitializeAsync();
            var (student, instructor) = (await AsAsync(Student), await AsAsync(Instructor));
            await AddAircraftAsync();
            var planned = await AssignAsync("racetrack");
            await (await AsAsync(Student)).SavePlanAsync(planned.Id, new SavePlan(new PlanDrill("tussock-four")), Cancel);
            AttemptId = await ScoredAsync("timed-turns", "f13.nmea");
            var own = (await instructor.AttemptAsync(AttemptId, Cancel)).Score!;
            var later = own.Segments[1].StartUtc!.Value.AddSeconds(1);
            await instructor.SetBoundariesAsync(AttemptId, new PutBoundaries([new ManualBoundary(1, later)], Revision: 0), Cancel);
            await ScoreAsync(AttemptId);
            await student.AssessSelfAsync(AttemptId, new PutSelfAssessment([], LoadRatings: [2]), Cancel);
            await instructor.SaveGradeAsync(AttemptId, new SaveGrade("to-standard", [], null, true), Cancel);
            await student.AcknowledgeGradeAsync(AttemptId, new AcknowledgeGrade("Understood."), Cancel);
            await student.PutFlightLogAsync(
                planned.Id,
                Guid.NewGuid(),
                new PutFlightLog { StartedAtUtc = DateTimeOffset.UnixEpoch.AddYears(50), SentAtUtc = DateTimeOffset.UtcNow },
                Cancel
            );
            await instructor.AddStudentNoteAsync(IdOf(Student), new SaveStudentNote("Rushes the entry."), Cancel);
            await using var track = Recording("f13.csv");
            await student.SendRecordingAsync(track, "f13.csv", Cancel);
            await QueryAsync(db =>
            {
                var rescoring = new RescoringRow
                {
                    SchoolId = TussockId,
                    EngineVersion = "1.0.0",
                    StartedAtUtc = DateTimeOffset.UnixEpoch,
                    EndedAtUtc = DateTimeOffset.UnixEpoch,
                    Choice = new RescoringChoice(),
                    Chosen = 1,
                };
                db.Rescorings.Add(rescoring);
                db.RescoringItems.Add(
                    new RescoringItemRow
                    {
                        RescoringId = rescoring.Id,
                        AttemptId = AttemptId,
                        SchoolId = TussockId,
                        Number = 1,
                        Outcome = RescoringOutcome.Same,
                    }
                );
                db.AttemptEvents.Add(
                    new AttemptEventRow
                    {
                        AttemptId = AttemptId,
                        Id = Guid.NewGuid(),
                        SchoolId = TussockId,
                        Kind = "mark",
                        AtUtc = DateTimeOffset.UnixEpoch,
                    }
                );
                return db.SaveChangesAsync(Cancel);
            });
        }
    }
}
