using Acquire.Instruments.ProfileFiles;
using Acquire.Instruments.Profiles;

namespace Acquire.Instruments.Tests.Profiles;

public sealed class ProfileLibraryTests
{
    [Fact]
    public void List_without_a_user_folder_gives_the_shipped_families()
    {
        string[] expected =
        [
            "channel-lines-labelled", "channel-lines-plain", "decimal-comma", "fixed-width",
            "labelled-line", "pause-ended-line", "rgb-columns", "told-to-read", "vrgb-columns",
        ];
        var all = new ProfileLibrary().List();
        Assert.Equal(expected, all.Select(e => e.Name));
        Assert.All(all, e => Assert.Null(e.Fault));
    }

    [Fact]
    public void Find_of_an_unknown_name_lists_what_there_is()
    {
        var fault = Assert.Throws<ProfileException>(() => new ProfileLibrary().Find("nothing"));
        Assert.Contains("labelled-line", fault.Message, StringComparison.Ordinal);
    }

    [Fact]
    public void Find_of_a_missing_file_names_the_file()
    {
        var fault = Assert.Throws<ProfileException>(() => new ProfileLibrary().Find("no/such.json"));
        Assert.StartsWith("no/such.json: The file cannot be read", fault.Message, StringComparison.Ordinal);
    }

    [Fact]
    public void User_folder_goes_before_the_shipped_and_broken_files_are_listed_with_the_reason()
    {
        var folder = Directory.CreateTempSubdirectory();
        try
        {
            var own = Path.Combine(folder.FullName, "mine.json");
            File.WriteAllText(own, ProfileTexts.Small.Replace("\"small\"", "\"labelled-line\"", StringComparison.Ordinal));
            File.WriteAllText(Path.Combine(folder.FullName, "broken.json"), "{");
            var library = new ProfileLibrary(folder.FullName);

            Assert.Equal("Small", library.Find("Labelled-Line").Title);
            Assert.Equal("Small", library.Find(own).Title);
            Assert.Equal(own, library.List().Single(e => e.Name == "labelled-line").Source);
            Assert.NotNull(library.List().Single(e => e.Name == "broken").Fault);
            Assert.Throws<ProfileException>(() => library.Find("broken"));
        }
        finally
        {
            folder.Delete(recursive: true);
        }
    }
}
