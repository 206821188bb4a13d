using System.Text;
using Acquire.Formats.Csv;

namespace Acquire.Formats.Tests.Csv;

public sealed class ReadsCsvTests : IDisposable
{
    private readonly TempFolder _folder = new();

    private static CancellationToken Token => TestContext.Current.CancellationToken;

    public void Dispose() => _folder.Dispose();

    [Theory]
    [InlineData("patch,read,red,green,blue\nld,1,0.450,0.86,1.04\nld,2,.46,-0.01,1.05\n")]
    [InlineData("\uFEFFpatch,read,red,green,blue\r\n\r\nld,1,0.450,0.86,1.04\r\n\r\nld,2,.46,-0.01,1.05")]
    [InlineData("Blue;Patch;READ;who;Red;Green\n1,04;ld;1;Ines;0,450;0,86\n1,05;ld;2;\"Ines; Tom\";,46;-0,01\n;;;;;\n")]
    [InlineData("\n\npatch , read , red , green , blue\n ld , 1 , 0.450 , 0.86 , 1.04\n ld , 2 , .46 , -0.01 , 1.05 \n")]
    public async Task Read_of_every_usual_form_gives_the_same(string text)
    {
        var reads = await ReadAsync(text);

        Assert.Equal(["ld", "ld"], reads.Select(r => r.Patch));
        Assert.Equal([1, 2], reads.Select(r => r.Read));
        Assert.Equal(["R 0.450 G 0.86 B 1.04", "R 0.46 G -0.01 B 1.05"], reads.Select(r => r.ToDensities().ToString()));
        Assert.All(reads, r => Assert.Null(r.Placement));
    }

    [Fact]
    public async Task Read_with_visual_and_placement_gives_both()
    {
        var reads = await ReadAsync("patch,placement,read,visual,red,green,blue\nld,a,1,0.70,0.45,0.86,1.04\nld,b,1,,0.45,0.86,1.04\n");

        Assert.Equal(["a", "b"], reads.Select(r => r.Placement));
        Assert.Equal([new Density(0.70m), null], reads.Select(r => r.ToDensities().Visual));
        Assert.Equal([2, 3], reads.Select(r => r.Place.Line));
    }

    [Theory]
    [InlineData("patch,read,visual\nld,1,0.70\nld,2,0.71\n")]
    [InlineData("\uFEFFPatch;Read;Visual;Remark\r\nld;1;0,70;dry\r\nld;2;0,71;\r\n")]
    public async Task Read_of_a_black_and_white_instrument_has_visual_alone(string text)
    {
        var reads = await ReadAsync(text);

        Assert.Equal(["V 0.70", "V 0.71"], reads.Select(r => r.ToDensities().ToString()));
    }

    [Fact]
    public async Task Read_rounds_what_no_instrument_shows() =>
        Assert.Equal(
            "R 0.300000 G 0.5 B 1",
            Assert.Single(await ReadAsync("patch,read,red,green,blue\nld,1,0.30000000000000004,0.5,1\n")).ToDensities().ToString());

    [Theory]
    [InlineData("", "empty", "patch,read,red,green,blue")]
    [InlineData("\n\n \n", "empty", "patch,read,red,green,blue")]
    [InlineData("ld,1,0.45,0.86,1.04\n", "line 1", "lacks patch, read, red, green, blue")]
    [InlineData("patch,read,red,green\nld,1,1,1\n", "line 1", "lacks blue")]
    [InlineData("patch,read,red,green,blue,red\n", "line 1", "'red' twice")]
    [InlineData("patch,read,red,visual\nld,1,1,1\n", "line 1", "lacks green, blue")]
    [InlineData("patch,read,visual\nld,1,\n", "line 2", "visual is empty")]
    [InlineData("patch,read,red,green,blue\nld,1,0,45,0,86,1,04\n", "line 2", "8 cells, the heading 5", "semicolons")]
    [InlineData("patch;read;red;green;blue\nld;1;1.000,45;0,86;1,04\n", "line 2", "red is '1.000,45'")]
    [InlineData("patch;read;red;green;blue\nld;1;0,45;;1,04\n", "line 2", "green is empty")]
    [InlineData(
        "patch,read,red,green,blue\nld,1,0.45,0.86,1.04\n\nld,2,0.45,x,1.04\n", "line 4", "green is 'x'; expected a density such as 0.26")]
    [InlineData("patch,read,red,green,blue\nld,1,0.45,0.86\n", "line 2", "blue is empty")]
    [InlineData("patch,read,red,green,blue\nld,one,0.45,0.86,1.04\n", "line 2", "read is 'one'; expected a whole number")]
    [InlineData("patch,read,red,green,blue\nld,1,45000000,0.86,1.04\n", "line 2", "red is '45000000'")]
    [InlineData("patch,read,red,green,blue\nld,1,NaN,0.86,1.04\n", "line 2", "red is 'NaN'")]
    [InlineData("patch,read,red,green,blue\nld,1,1e-1,0.86,1.04\n", "line 2", "red is '1e-1'")]
    [InlineData("patch,read,red,green,blue\nld,1,\"0,45\",0.86,1.04\n", "line 2", "red is '0,45'")]
    [InlineData("patch,read,red,green,blue\n,1,0.45,0.86,1.04\n", "line 2", "patch is empty")]
    [InlineData("patch,read,red,green,blue\nld,,0.45,0.86,1.04\n", "line 2", "read is empty")]
    [InlineData(
        "patch,read,red,green,blue\nld,1,0.45,0.86,1.04\nLD,1,0.45,0.86,1.04\n", "line 3", "read 1 of patch LD stands in the file already")]
    [InlineData("patch,read,red,green,blue\nld,1,\"0.4\"5,0.86,1.04\n", "line 2", "expected")]
    public async Task Read_of_bad_input_names_file_line_and_what_was_expected(string text, params string[] said)
    {
        var error = await Assert.ThrowsAsync<ImportException>(() => ReadAsync(text));

        Assert.All([_folder.Path, .. said], s => Assert.Contains(s, error.Message, StringComparison.Ordinal));
    }

    /// <summary>Statistics are the same on another scale, so other numbers pass; as densities they are refused.</summary>
    [Fact]
    public async Task Read_of_numbers_that_are_no_densities_keeps_them_as_numbers()
    {
        var read = Assert.Single(await ReadAsync("patch,read,red,green,blue\nld,1,41.03,0.86,1.04\n"));

        Assert.False(read.IsDensities);
        Assert.Equal(41.03m, read.Values[Channel.Red]);
        Assert.Contains(
            "line 2: red is 41.03; expected a density", Assert.Throws<ImportException>(read.ToDensities).Message, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Read_of_a_line_without_end_is_refused()
    {
        var error = await Assert.ThrowsAsync<ImportException>(() => ReadAsync(new string('7', 3_000_000)));

        Assert.Contains("line 1", error.Message, StringComparison.Ordinal);
        Assert.True(error.Message.Length < 500);
    }

    /// <summary>Bytes of another encoding were once read as replacement characters, so that two patches could become one.</summary>
    [Fact]
    public async Task Read_of_bytes_that_are_no_utf8_is_refused_with_the_line()
    {
        var file = _folder.In("latin.csv");
        await File.WriteAllBytesAsync(file, [.. "patch,read,visual\ngr"u8, 0xFC, .. "n,1,0.70\n"u8], Token);

        var refusal = await Assert.ThrowsAsync<ImportException>(() => ReadsCsv.ReadAsync(file, Token).ToListAsync(Token).AsTask());

        Assert.Contains("no UTF-8", refusal.Message, StringComparison.Ordinal);
    }

    /// <summary>Noise gives reads or an error for the user, never another exception.</summary>
    [Fact]
    public Task Read_of_noise_never_crashes() => Gen.Select(Gen.Bool, Gen.OneOf(
        Gen.Byte.Array[0, 200],
        Gen.OneOf("0.4", ",", ";", "\n", "\r", "\"", "ld", "\0", "ÿ").Array[0, 60].Select(p => Encoding.UTF8.GetBytes(string.Concat(p)))))
            .SampleAsync(
        async (heading, noise) =>
        {
            var file = Path.Combine(_folder.Path, $"{Guid.NewGuid():N}.csv");
            await File.WriteAllBytesAsync(file, heading ? [.. "patch,read,red,green,blue\n"u8, .. noise] : noise, Token);
            try
            {
                await foreach (var read in ReadsCsv.ReadAsync(file, Token))
                {
                    Assert.NotEmpty(read.Patch);
                }
            }
            catch (ImportException e)
            {
                Assert.StartsWith(file, e.Message, StringComparison.Ordinal);
                Assert.DoesNotContain(e.Message, char.IsControl);
            }
        }, iter: 400);

    private async Task<List<ImportedRead>> ReadAsync(string text)
    {
        var file = Path.Combine(_folder.Path, "reads.csv");
        await File.WriteAllTextAsync(file, text, Token);
        return await ReadsCsv.ReadAsync(file, Token).ToListAsync(Token);
    }
}
