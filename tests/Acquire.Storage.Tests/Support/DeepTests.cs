namespace Acquire.Storage.Tests.Support;

/// <summary>The comparison that the round trips rest on must see a difference in anything.</summary>
public sealed class DeepTests
{
    [Fact]
    public void Text_tells_zeros_bytes_and_exclusions_apart()
    {
        var strip = Some.Strip(Guid.Empty);
        Assert.Equal(Deep.Text(strip), Deep.Text(Some.Strip(Guid.Empty)));

        Assert.NotEqual(Deep.Text(Some.Read(0.26m, 1, 1)), Deep.Text(Some.Read(0.260m, 1, 1)));
        Assert.NotEqual(Deep.Text(Some.Line(1, "a")), Deep.Text(Some.Line(1, "b")));
        Assert.NotEqual(Deep.Text(strip.Patches[0]), Deep.Text(strip.Patches[0] with { LeftOut = new Exclusion("x", Some.Evening) }));
        Assert.NotEqual(Deep.Text(strip), Deep.Text(strip with { Tags = strip.Tags with { Note = null } }));
    }
}
