using Acquire.Instruments.Learning;
using Acquire.Instruments.ProfileFiles;
using Acquire.Instruments.Profiles;

namespace Acquire.Instruments.Tests.Learning;

public class ProfileWriterTests
{
    public static TheoryData<string> Shipped => [.. new ProfileLibrary().List().Select(e => e.Name)];

    [Theory]
    [MemberData(nameof(Shipped))]
    public void Shipped_profile_written_and_read_again_is_the_same(string name)
    {
        var profile = new ProfileLibrary().Find(name);

        var again = ProfileReader.Read(ProfileWriter.Write(profile), "again.json");

        Assert.Equal((profile.Name, profile.Title, profile.Description), (again.Name, again.Title, again.Description));
        Assert.Equal((profile.Link, profile.Framing), (again.Link, again.Framing));
        Assert.Equal(profile.Number with { OverRange = [] }, again.Number with { OverRange = [] });
        Assert.Equal(profile.Number.OverRange, again.Number.OverRange);
        Assert.Equal(
            profile.Rules.Select(r => (r.Meaning, r.Template?.Text, r.Pattern)),
            again.Rules.Select(r => (r.Meaning, r.Template?.Text, r.Pattern)));
        Assert.Equal(profile.Assembly?.Order ?? [], again.Assembly?.Order ?? []);
        Assert.Equal(profile.Assembly?.Timeout, again.Assembly?.Timeout);
        Assert.Equal(
            profile.Samples.Select(s => (string.Join('\n', s.Lines), s.Meaning, s.Densities, s.Identity)),
            again.Samples.Select(s => (string.Join('\n', s.Lines), s.Meaning, s.Densities, s.Identity)));
        Assert.Equal(Text(profile.Commands), Text(again.Commands));
    }

    private static string Text(ProfileCommands commands) => string.Join(
        '\n',
        [
            .. commands.All.Select(c => $"{c.Place} {ByteText.Of(c.Bytes.AsSpan())}"),
            .. commands.AfterOpening.Select(c => $"{c.ThenWait}"),
            $"{commands.Trigger?.Within} {commands.Identify?.Within} {commands.Identify?.Answer.Text}",
        ]);

    [Fact]
    public void Control_characters_survive_as_escapes()
    {
        var result = ProfileLearner.Learn(new LearningInput(
            "\aR\u001b 0.26 G 0.62 B 0.80\r\n\aR\u001b 1.26 G 1.74 B 2.01\r\n"u8.ToArray(),
            [ShownReading.Parse("0.26 0.62 0.80", 3), ShownReading.Parse("1.26 1.74 2.01", 3)],
            Channels.Colours));

        var learned = Assert.IsType<LearningResult.Learned>(result);
        Assert.Contains("\\u0007R\\u001B", learned.Json, StringComparison.OrdinalIgnoreCase);
        Assert.Equal("\aR\u001b {red} G {green} B {blue}", learned.Profile.Rules[0].Template!.Text);
    }
}
