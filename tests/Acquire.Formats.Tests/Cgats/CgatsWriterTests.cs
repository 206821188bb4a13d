using Acquire.Formats.Cgats;

namespace Acquire.Formats.Tests.Cgats;

public sealed class CgatsWriterTests : IDisposable
{
    private static readonly CgatsTable Plain = new()
    {
        Keywords = [
            new("ORIGINATOR", "1 2 3 4"),
            new("FILE_DESCRIPTOR", "x"),
            new("DESCRIPTOR", "1234"),
            new("CREATED", "2026-11-25"),
            new("BOTTLE", "D7")],
        Fields = ["SAMPLE_ID", "STRING", "D_RED"],
        Sets = [new(0, ["1", "a b", "-0.012"]), new(0, ["2", "", ""])],
    };

    private readonly TempFolder _folder = new();

    private static CancellationToken Token => TestContext.Current.CancellationToken;

    public void Dispose() => _folder.Dispose();

    [Fact]
    public async Task Write_declares_own_keywords_once_and_counts()
    {
        const string Header = "ORIGINATOR\t\"1 2 3 4\"\nFILE_DESCRIPTOR\t\"x\"\nDESCRIPTOR\t\"1234\"\nCREATED\t\"2026-11-25\"\n";
        const string Data = "BOTTLE\t\"D7\"\nNUMBER_OF_FIELDS\t3\nBEGIN_DATA_FORMAT\nSAMPLE_ID\tSTRING\tD_RED\nEND_DATA_FORMAT\n"
            + "NUMBER_OF_SETS\t2\nBEGIN_DATA\n1\t\"a b\"\t-0.012\n2\t\"\"\t\"\"\nEND_DATA\n";

        Assert.Equal($"CGATS.17\n{Header}KEYWORD\t\"BOTTLE\"\n{Data}{Header}{Data}", await WriteAsync(Plain, Plain));
    }

    [Fact]
    public async Task Write_then_read_gives_the_tables_again()
    {
        await File.WriteAllTextAsync(_folder.In("file.txt"), await WriteAsync(Plain, Plain), Token);

        var read = await CgatsReader.ReadAsync(_folder.In("file.txt"), Token).ToListAsync(Token);

        Assert.Equal(2, read.Count);
        Assert.All(read, t => Assert.Equal([.. Plain.Keywords, new("NUMBER_OF_FIELDS", "3"), new("NUMBER_OF_SETS", "2")], t.Keywords));
        Assert.All(
            read, t => Assert.Equal(Plain.Sets.Select(s => string.Join('|', s.Values)), t.Sets.Select(s => string.Join('|', s.Values))));
    }

    [Fact]
    public async Task Write_of_what_the_format_cannot_hold_is_refused()
    {
        CgatsTable[] bad =
        [
            Plain with { Keywords = Plain.Keywords.RemoveAt(0) },
            Plain with { Keywords = Plain.Keywords.Add(new("NOTE", "a \"quote\"")) },
            Plain with { Keywords = Plain.Keywords.Add(new("NOTE", "ö")) },
            Plain with { Keywords = Plain.Keywords.Add(new("TWO WORDS", "x")) },
            Plain with { Keywords = Plain.Keywords.Add(new("NUMBER_OF_SETS", "7")) },
            Plain with { Fields = ["SAMPLE_ID", "STRING", "D_PINK"] },
            Plain with { Sets = [new(0, ["1", "a"])] },
            Plain with { Sets = [new(0, ["1", "a", "0.1 0.2"])] },
        ];

        foreach (var table in bad)
        {
            _ = await Assert.ThrowsAsync<ArgumentException>(() => WriteAsync(table));
        }
    }

    [Fact]
    public void EscapedText_any_comes_back_and_is_ascii() => Gen.OneOf(
        Gens.Text, Gen.String, Gen.OneOf("\\u0041", "\\", "u", "\"").Array[0, 5].Select(string.Concat)).Sample(text =>
    {
        var escaped = EscapedText.Of(text);
        Assert.DoesNotContain(escaped, c => c is < ' ' or > '~' or '"');
        Assert.Equal(text, EscapedText.Back(escaped));
    });

    private static async Task<string> WriteAsync(params CgatsTable[] tables)
    {
        await using var text = new StringWriter();
        var writer = new CgatsWriter(text);
        foreach (var table in tables)
        {
            await writer.WriteAsync(table, Token);
        }

        return text.ToString();
    }
}
