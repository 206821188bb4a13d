using Acquire.Bench.Guidance;
using Acquire.Bench.Sessions;

namespace Acquire.Bench.Tests.Sessions;

public sealed class RescueFileTests : IDisposable
{
    private readonly string _folder = Directory.CreateTempSubdirectory("acquire-rescue-").FullName;

    private static readonly BenchSession Session = new(
        Guid.CreateVersion7(Some.Moment), SessionKind.Strip, "4410", 2, new Provenance(Some.Moment, "staff", null));

    private static readonly GuidedOutcome Outcome = new(
        SessionOutcome.Failed,
        "The disk is full.",
        GuidedStrip.Begin(Some.Plan()).Accept(Some.Reading(0.27m)).Undo(Some.Moment),
        [new ReceivedLine(
            1, Some.Line("R 0.27 G 0.62 B 0.80"), LineMeaning.Reading), new ReceivedLine(2, Some.Line("Q\u0007"), LineMeaning.Unmatched)]);

    public void Dispose() => Directory.Delete(_folder, recursive: true);

    [Fact]
    public void Write_keeps_every_line_and_every_read()
    {
        var rescue = RescueFile.Write(Session, Outcome, [_folder]);
        var text = File.ReadAllText(rescue.Path!);
        Assert.Contains("R 0.27 G 0.62 B 0.80", text, StringComparison.Ordinal);
        Assert.Contains("Unmatched\tQ\\x07", text, StringComparison.Ordinal);
        Assert.Contains($"# D-min\tR 0.27 G 0.62 B 0.80\tdoes not count: {GuidedStrip.TakenBack}", text, StringComparison.Ordinal);
    }

    [Fact]
    public void Write_goes_to_the_next_folder_when_the_first_takes_no_file()
    {
        var noFolder = Path.Combine(_folder, "file");
        File.WriteAllText(noFolder, "");
        var rescue = RescueFile.Write(Session, Outcome, [noFolder, _folder]);
        Assert.Equal(_folder, Path.GetDirectoryName(rescue.Path));
    }

    [Fact]
    public void Write_gives_the_text_when_no_folder_takes_a_file()
    {
        var noFolder = Path.Combine(_folder, "file");
        File.WriteAllText(noFolder, "");
        var rescue = RescueFile.Write(Session, Outcome, [noFolder]);
        Assert.Null(rescue.Path);
        Assert.Contains("R 0.27 G 0.62 B 0.80", rescue.Text, StringComparison.Ordinal);
    }
}
