"""The first form of a book."""

import sqlalchemy as sa
from alembic import op

revision = "0001"
down_revision = None
branch_labels = None
depends_on = None


def upgrade() -> None:
    """Make the tables."""
    op.create_table('book',
    sa.Column('one', sa.Integer(), autoincrement=False, nullable=False),
    sa.Column('book_id', sa.String(length=36), nullable=False),
    sa.Column('kind', sa.String(length=8), nullable=False),
    sa.Column('made_at', sa.DateTime(timezone=True), nullable=False),
    sa.Column('fold_version', sa.Integer(), nullable=False),
    sa.Column('work_revision', sa.Integer(), nullable=False),
    sa.Column('readings_revision', sa.Integer(), nullable=False),
    sa.Column('next_tag', sa.Integer(), nullable=False),
    sa.Column('demo_day', sa.Date(), nullable=True),
    sa.Column('demo_entries', sa.Integer(), nullable=True),
    sa.PrimaryKeyConstraint('one', name=op.f('pk_book'))
    )
    op.create_table('entry',
    sa.Column('seq', sa.Integer(), nullable=False),
    sa.Column('id', sa.String(length=64), nullable=False),
    sa.Column('kind', sa.String(length=40), nullable=False),
    sa.Column('form', sa.Integer(), nullable=False),
    sa.Column('writer', sa.String(length=120), nullable=False),
    sa.Column('number', sa.BigInteger(), nullable=False),
    sa.Column('earliest', sa.DateTime(timezone=True), nullable=False),
    sa.Column('latest', sa.DateTime(timezone=True), nullable=False),
    sa.Column('recorded', sa.DateTime(timezone=True), nullable=False),
    sa.Column('who', sa.String(length=36), nullable=True),
    sa.Column('task', sa.String(length=64), nullable=True),
    sa.Column('replaces', sa.String(length=64), nullable=True),
    sa.Column('subjects', sa.JSON(), nullable=False),
    sa.Column('content', sa.JSON(), nullable=False),
    sa.Column('fingerprint', sa.String(length=64), nullable=False),
    sa.PrimaryKeyConstraint('seq', name=op.f('pk_entry')),
    sa.UniqueConstraint('id', name=op.f('uq_entry_id'))
    )
    op.create_index('ix_entry_writer_number', 'entry', ['writer', 'number'], unique=False)
    op.create_table('entry_aside',
    sa.Column('seq', sa.Integer(), nullable=False),
    sa.Column('id', sa.String(length=64), nullable=False),
    sa.Column('fingerprint', sa.String(length=64), nullable=False),
    sa.Column('content', sa.JSON(), nullable=False),
    sa.Column('received_at', sa.DateTime(timezone=True), nullable=False),
    sa.Column('settled_at', sa.DateTime(timezone=True), nullable=True),
    sa.PrimaryKeyConstraint('seq', name=op.f('pk_entry_aside')),
    sa.UniqueConstraint('id', 'fingerprint', name=op.f('uq_entry_aside_id'))
    )
    op.create_table('person',
    sa.Column('id', sa.String(length=36), nullable=False),
    sa.Column('name', sa.String(length=200), nullable=True),
    sa.Column('contact', sa.Text(), nullable=True),
    sa.Column('note', sa.Text(), nullable=True),
    sa.Column('erased_at', sa.DateTime(timezone=True), nullable=True),
    sa.PrimaryKeyConstraint('id', name=op.f('pk_person'))
    )
    op.create_table('plan',
    sa.Column('kind', sa.String(length=20), nullable=False),
    sa.Column('work_revision', sa.Integer(), nullable=False),
    sa.Column('made_at', sa.DateTime(timezone=True), nullable=False),
    sa.Column('body', sa.JSON(), nullable=False),
    sa.PrimaryKeyConstraint('kind', name=op.f('pk_plan'))
    )
    op.create_table('room_now',
    sa.Column('one', sa.Integer(), autoincrement=False, nullable=False),
    sa.Column('state', sa.JSON(), nullable=False),
    sa.PrimaryKeyConstraint('one', name=op.f('pk_room_now'))
    )
    op.create_table('specimen_now',
    sa.Column('id', sa.String(), nullable=False),
    sa.Column('tag', sa.String(), nullable=False),
    sa.Column('owner', sa.String(), nullable=True),
    sa.Column('finished', sa.Boolean(), nullable=False),
    sa.Column('state', sa.JSON(), nullable=False),
    sa.PrimaryKeyConstraint('id', name=op.f('pk_specimen_now'))
    )
    op.create_index(op.f('ix_specimen_now_finished'), 'specimen_now', ['finished'], unique=False)
    op.create_index(op.f('ix_specimen_now_owner'), 'specimen_now', ['owner'], unique=False)
    op.create_index(op.f('ix_specimen_now_tag'), 'specimen_now', ['tag'], unique=False)
    op.create_table('writer',
    sa.Column('name', sa.String(length=120), nullable=False),
    sa.Column('last_number', sa.BigInteger(), nullable=False),
    sa.PrimaryKeyConstraint('name', name=op.f('pk_writer'))
    )
    op.create_table('entry_subject',
    sa.Column('root', sa.String(length=120), nullable=False),
    sa.Column('seq', sa.Integer(), nullable=False),
    sa.ForeignKeyConstraint(['seq'], ['entry.seq'], name=op.f('fk_entry_subject_seq_entry')),
    sa.PrimaryKeyConstraint('root', 'seq', name=op.f('pk_entry_subject'))
    )
    op.create_index('ix_entry_subject_seq', 'entry_subject', ['seq'], unique=False)
    op.create_table('entry_target',
    sa.Column('target', sa.String(), nullable=False),
    sa.Column('seq', sa.Integer(), nullable=False),
    sa.ForeignKeyConstraint(['seq'], ['entry.seq'], name=op.f('fk_entry_target_seq_entry')),
    sa.PrimaryKeyConstraint('target', 'seq', name=op.f('pk_entry_target'))
    )
    op.create_table('note',
    sa.Column('id', sa.String(length=36), nullable=False),
    sa.Column('person', sa.String(length=36), nullable=True),
    sa.Column('text', sa.Text(), nullable=True),
    sa.Column('erased_at', sa.DateTime(timezone=True), nullable=True),
    sa.ForeignKeyConstraint(['person'], ['person.id'], name=op.f('fk_note_person_person')),
    sa.PrimaryKeyConstraint('id', name=op.f('pk_note'))
    )
    op.create_index(op.f('ix_note_person'), 'note', ['person'], unique=False)
    op.create_table('part_now',
    sa.Column('specimen', sa.String(), nullable=False),
    sa.Column('part', sa.String(), nullable=False),
    sa.Column('place', sa.String(), nullable=True),
    sa.Column('since', sa.DateTime(timezone=True), nullable=True),
    sa.ForeignKeyConstraint(['specimen'], ['specimen_now.id'], name=op.f('fk_part_now_specimen_specimen_now')),
    sa.PrimaryKeyConstraint('specimen', 'part', name=op.f('pk_part_now'))
    )
    op.create_index(op.f('ix_part_now_place'), 'part_now', ['place'], unique=False)
    op.create_table('stay_now',
    sa.Column('specimen', sa.String(), nullable=False),
    sa.Column('step', sa.String(length=40), nullable=False),
    sa.Column('visit', sa.BigInteger(), nullable=False),
    sa.Column('method', sa.String(), nullable=True),
    sa.Column('species', sa.String(), nullable=False),
    sa.Column('head_kg', sa.Float(), nullable=True),
    sa.Column('days', sa.Float(), nullable=False),
    sa.ForeignKeyConstraint(['specimen'], ['specimen_now.id'], name=op.f('fk_stay_now_specimen_specimen_now')),
    sa.PrimaryKeyConstraint('specimen', 'step', 'visit', name=op.f('pk_stay_now'))
    )
    op.create_index(op.f('ix_stay_now_method'), 'stay_now', ['method'], unique=False)
    op.create_table('place_now',
    sa.Column('key', sa.String(), nullable=False),
    sa.Column('state', sa.JSON(), nullable=False),
    sa.PrimaryKeyConstraint('key', name=op.f('pk_place_now'))
    )


def downgrade() -> None:
    """Take the tables away."""
    op.drop_table('place_now')
    op.drop_index(op.f('ix_stay_now_method'), table_name='stay_now')
    op.drop_table('stay_now')
    op.drop_index(op.f('ix_part_now_place'), table_name='part_now')
    op.drop_table('part_now')
    op.drop_index(op.f('ix_note_person'), table_name='note')
    op.drop_table('note')
    op.drop_table('entry_target')
    op.drop_index('ix_entry_subject_seq', table_name='entry_subject')
    op.drop_table('entry_subject')
    op.drop_table('writer')
    op.drop_index(op.f('ix_specimen_now_tag'), table_name='specimen_now')
    op.drop_index(op.f('ix_specimen_now_owner'), table_name='specimen_now')
    op.drop_index(op.f('ix_specimen_now_finished'), table_name='specimen_now')
    op.drop_table('specimen_now')
    op.drop_table('room_now')
    op.drop_table('plan')
    op.drop_table('person')
    op.drop_table('entry_aside')
    op.drop_index('ix_entry_writer_number', table_name='entry')
    op.drop_table('entry')
    op.drop_table('book')
