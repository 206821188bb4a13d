using Acquire.Instruments.Profiles;

namespace Acquire.Instruments.Tests.Profiles;

public sealed class AssemblyChecksTests
{
    private const string Labelled = """
        {
          "name": "labelled", "title": "Labelled",
          "lines": [
            { "template": "R {red}", "means": "channel" },
            { "template": "G {green}", "means": "channel" }
          ],
          "assembly": { "order": ["red", "green"] },
          "samples": [ { "lines": ["R 0.26", "G 0.62"], "gives": { "red": 0.26, "green": 0.62 } } ]
        }
        """;

    [Fact]
    public void Labelled_lines_that_match_the_order_are_accepted_with_a_time_out_of_two_seconds() =>
        Assert.Equal(TimeSpan.FromSeconds(2), ProfileTexts.Read(Labelled).Assembly!.Timeout);

    [Theory]
    [InlineData("[\"red\", \"green\"]", "[\"red\", \"blue\"]", "A line names green, which the order lacks.")]
    [InlineData("[\"red\", \"green\"]", "[\"red\", \"green\", \"blue\"]", "The order has blue, which no line names")]
    [InlineData("G {green}", "G {value}", "{value} and named channels cannot both make up a reading")]
    [InlineData("[\"red\", \"green\"]", "[\"red\", \"red\"]", "duplicates")]
    [InlineData("\"R 0.26\", \"G", "\"G 0.62\", \"G", "green came where red was expected")]
    public void Lines_and_order_that_do_not_go_together_are_refused(string old, string replacement, string message)
    {
        var fault = Assert.Throws<ProfileException>(() => ProfileTexts.Read(Labelled.Replace(old, replacement, StringComparison.Ordinal)));
        Assert.Contains(message, fault.Message, StringComparison.Ordinal);
    }
}
