using Acquire.Bench.Import;
using Acquire.Bench.Processes;

namespace Acquire.Bench.Tests.Import;

public sealed class MapDeskTests : IDisposable
{
    private readonly StudyStore _studies = new();

    public void Dispose() => _studies.Dispose();

    [Theory]
    [InlineData("Nr;Datum;Code;LD R;LD G;LD B", 0)]
    [InlineData("Nr;Code;LD R;LD G;LD B", 1)]
    [InlineData("Nr;LD R;LD G;LD B", 2)]
    [InlineData("x;y", 3)]
    public async Task What_a_heading_does_not_tell_is_said_in_a_sentence_each(string heading, int lacks)
    {
        var file = _studies.File("old.csv");
        await File.WriteAllTextAsync(file, heading + "\n1;2;3;4;5;6\n"[..(2 * heading.Split(';').Length)] + "\n", StudyStore.Token);

        var proposed =
            await new MapDesk(new ProcessLibrary(_studies.File("processes"))).ProposeAsync(file, MapDesk.UsualProcess, StudyStore.Token);

        Assert.Equal((lacks, false), (proposed.Lacks.Length, proposed.IsSure));
        Assert.Equal(lacks == 3 ? ["x", "y"] : [], proposed.PassedOver);
    }
}
