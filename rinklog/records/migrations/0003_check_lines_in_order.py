from django.db import migrations


class Migration(migrations.Migration):
    dependencies = [("records", "0002_headcount_of_a_whole_hour")]

    operations = [
        migrations.AlterModelOptions(name="checkline", options={"ordering": ["id"]}),
    ]
